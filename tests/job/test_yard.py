"""A yard file as a foreman writes it: what is read of it, and every fault in one line that says what to type."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.job.yard import Yard, longest_sold, pattern, read_yard, yard_for
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from sitelog.wording.prompts.setting_up import asked, usual_text, with_yard
from tests.shipped import library

WHOLE = """\ufeff# what the yard on the corner sells
[47x150]
lengths = [4800, 3600, "5.4m", 6000]
pack = 10
price_metre = 4.20
long_from = 5400
long_adds = "10%"

[2x9]
price_each = { 4800 = 31.50, "18ft" = 36 }
pack = { 4800 = 5 }
"""


def read(folder: Path, text: str) -> Yard:
    file = folder / "yard.toml"
    file.write_text(text, encoding="utf-8")
    return read_yard(file)


def test_lengths_packs_and_prices_are_read(tmp_path: Path) -> None:
    """By hand: 3.6 x 4.20 is 15.12, 4.8 x 4.20 20.16; 5.4 x 4.20 x 1.1 24.948, 6.0 x 4.20 x 1.1 27.72. 18 ft 5486.4."""
    yard = read(tmp_path, WHOLE)
    assert [str(one) for one in yard.sold] == [
        "47x150:3600:10", "47x150:4800:10", "47x150:5400:10", "47x150:6000:10", "47x225:4800:5", "47x225:5486.4:1",
    ]  # fmt: skip
    assert [one.each for one in yard.prices] == [15.12, 20.16, 24.95, 27.72, 31.5, 36]
    assert yard.lengths(Section(47, 225, "2x9")) == [4800, 5486.4]
    assert yard.lengths(Section(47, 175)) == []


def test_no_price_at_all_is_allowed(tmp_path: Path) -> None:
    yard = read(tmp_path, "[47x150]\nlengths = [4800]\n[47x225]\nlengths = [5400]\n")
    assert (len(yard.sold), yard.prices) == (2, ())


def test_the_pattern_is_read_as_it_stands_and_with_every_line_in_use(tmp_path: Path) -> None:
    told = pattern([Section(47, 150), Section(38, 225)])
    assert {str(one.section) for one in read(tmp_path, told).sold} == {"47x150", "38x225"}
    lines = [line.removeprefix("# ") for line in pattern([Section(47, 150)]).splitlines()[3:]]
    used = read(tmp_path, "\n".join(line for line in lines if not line.startswith("price_each")))
    assert {(one.length, one.count) for one in used.sold} >= {(1800, 10), (7200, 10)}
    assert [one.each for one in used.prices if one.length in (1800, 5400)] == [7.56, 24.95], "1.8 x 4.20, 5.4 x 4.62"


SECTION = "[47x150]\n"
FAULTS = [
    ("", "yard.toml is empty. Type [47x150], and under it lengths = [3600, 4200, 4800]"),
    ("lengths = [4800]", "yard.toml: lengths isn't under a section. Type [47x150] on a line of its own"),
    ("[rafters]\nlengths = [4800]", "yard.toml: [rafters] isn't a section. Type thickness x depth, such as [47x150]"),
    ("[47x150]\nlengths=[4800]\n[2x6]\nlengths=[4800]", "yard.toml: 47x150 is there twice. Put all its lengths under"),
    ("[47x150]\nlengths = [4800\n", "yard.toml, line 2: this isn't TOML: "),
    ("[47x150]\nlengths=[4800]\nprice_metre = 4,20", "yard.toml, line 3: this isn't TOML: "),
    (
        "[47x150]\nlengths=[4800]\nprice_metre=4\n[47x225]\nlengths=[4800]",
        "yard.toml, 47x225: no price, and other sect",
    ),
    (SECTION, "yard.toml, 47x150: no lengths. Type lengths = [3600, 4200, 4800]"),
    (f"{SECTION}lengths = 4800", "yard.toml, 47x150: no lengths. Type lengths = [3600, 4200, 4800]"),
    (f"{SECTION}lengths = {[*range(3000, 3061)]}", "lengths has 61. Type at most 60"),
    (f"{SECTION}lengths = [4.8]", "yard.toml, 47x150: lengths has '4.8', which is 4.8 mm. Type 4800"),
    (f"{SECTION}lengths = [48]", "lengths has '48'. Type lengths from 300 to 15000 mm"),
    (f"{SECTION}lengths = [0]", "lengths has '0'. Type lengths from 300 to 15000 mm"),
    (f"{SECTION}lengths = [inf]", "lengths has 'inf', not a length. Type mm such as 4800, or \"4.8m\" in quotes"),
    (f"{SECTION}lengths = [true]", "lengths has 'True', not a length. Type mm such as 4800"),
    (f"{SECTION}lengths = ['long']", "lengths has 'long', not a length. Type mm such as 4800"),
    (f"{SECTION}length = [4800]", "yard.toml, 47x150: 'length' isn't known here. Did you mean lengths?"),
    (
        f"{SECTION}colour = 1",
        "'colour' isn't known here. Type one of lengths, pack, price_metre, price_each, long_from",
    ),
    (f"{SECTION}lengths=[4800]\npack=0", "pack has '0'. Type how many are sold together, from 1 to 1000"),
    (f"{SECTION}lengths=[4800]\npack=2.5", "pack has '2.5'. Type how many are sold together"),
    (f"{SECTION}lengths=[4800]\npack='ten'", "pack has 'ten'. Type how many are sold together"),
    (f"{SECTION}lengths=[4800]\npack={{5400=5}}", "pack has 5400, and lengths has not. Add 5400 to lengths"),
    (f"{SECTION}lengths=[4800]\nprice_metre='£4'", "price_metre has '£4'. Type a number without a sign, such as 4.20"),
    (f"{SECTION}lengths=[4800]\nprice_metre=-4", "price_metre has '-4'. Type a number without a sign"),
    (f"{SECTION}lengths=[4800]\nprice_metre=nan", "price_metre has 'nan'. Type a number without a sign"),
    (f"{SECTION}lengths=[4800]\nprice_metre=0.0001", "a stick of 4800 comes to less than 0.01. Type a higher price"),
    (f"{SECTION}price_each=31.50", "price_each is one figure. Type { 4800 = 31.50, 5400 = 36 }, or price_metre = 4.20"),
    (f"{SECTION}price_each={{4.8=31.50}}", "price_each has a length with a point. Type mm such as 4800, or"),
    (f"{SECTION}price_each={{4800=20,'4.8m'=21}}", "price_each has 4800 twice. Leave one out"),
    (f"{SECTION}price_each={{4800='dear'}}", "price_each has 'dear'. Type a number without a sign"),
    (
        f"{SECTION}lengths=[4800,5400]\nprice_each={{4800=20}}",
        "price_each doesn't have 5400. Add 5400 = 21.60, or take 5400 out",
    ),
    (
        f"{SECTION}lengths=[4800]\nprice_each={{4800=20,5400=21}}",
        "price_each has 5400, and lengths has not. Add 5400 to",
    ),
    (f"{SECTION}price_metre=4\nprice_each={{4800=20}}", "it has price_metre and price_each. Leave one out"),
    (
        f"{SECTION}lengths=[4800]\nprice_metre=4\nlong_from=5400",
        'long_from needs long_adds too. Type long_adds = "10%"',
    ),
    (
        f"{SECTION}lengths=[4800]\nprice_metre=4\nlong_adds='10%'",
        "long_adds needs long_from too. Type long_from = 5400",
    ),
    (f"{SECTION}lengths=[4800]\nlong_from=5400\nlong_adds='10%'", "long_adds needs a price. Type price_metre = 4.20"),
    (
        f"{SECTION}lengths=[4800]\nprice_metre=4\nlong_from=5400\nlong_adds=10",
        "long_adds has '10'. Type a share in quot",
    ),
    (
        f"{SECTION}lengths=[4800]\nprice_metre=4\nlong_from=5400\nlong_adds='x%'",
        "long_adds has 'x%'. Type a share in quo",
    ),
]


@pytest.mark.parametrize(("text", "says"), FAULTS, ids=[says for _, says in FAULTS])
def test_a_fault_is_one_line_with_the_section_and_what_to_type(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(Refusal) as refused:
        read(tmp_path, text)
    assert says in refused.value.message
    assert refused.value.message.startswith("yard.toml")
    assert "\n" not in refused.value.message and len(refused.value.message) < 200


def test_a_file_that_is_none_is_refused(tmp_path: Path) -> None:
    for path, says in (
        (tmp_path / "none.toml", "none.toml: can't be read (No such file or directory)"),
        (tmp_path, "this isn't a plain file"),
    ):
        with pytest.raises(Refusal) as refused:
            read_yard(path)
        assert says in refused.value.message


@given(st.text(max_size=200))
def test_whatever_stands_in_the_file_it_is_read_or_refused(text: str) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        for body in (text, f"[47x150]\nlengths = [4800]\n{text}"):
            try:
                assert read(Path(folder), body.encode("utf-8", "replace").decode()).sold
            except Refusal as refusal:
                assert "\n" not in refusal.message


def test_the_jobs_own_yard_goes_before_the_firms_beside_it(tmp_path: Path) -> None:
    own = tmp_path / "roof.json.files"
    assert yard_for(own) is None
    assert yard_for(None) is None
    (tmp_path / "yard.toml").touch()
    assert yard_for(own) == tmp_path / "yard.toml"
    own.mkdir()
    (own / "yard.toml").touch()
    assert yard_for(own) == own / "yard.toml"


def test_a_new_part_takes_the_longest_stick_from_the_yard_unless_somebody_gave_another(tmp_path: Path) -> None:
    stick = next(spec for spec in asked(library(), "hipped") if spec.name == "longest_stick")
    parts = [("main", "Main roof", "hipped", {"length": "9000"}), ("deck", "Deck", "firred-deck", {})]
    assert usual_text(stick, tmp_path) == "6000"
    assert with_yard(parts, library(), tmp_path)[0][3] == {"length": "9000"}
    read(tmp_path, WHOLE.replace("6000", "7200"))
    assert longest_sold(tmp_path) == 7200
    assert usual_text(stick, tmp_path) == "7200"
    main, deck = with_yard(parts, library(), tmp_path)
    assert (main[3]["longest_stick"], deck[3]) == ("7200", {})
    given = [("main", "Main roof", "hipped", {"longest_stick": "4800"})]
    assert with_yard(given, library(), tmp_path)[0][3]["longest_stick"] == "4800"


def test_a_yard_file_that_cant_be_read_leaves_the_usual_stick(tmp_path: Path) -> None:
    (tmp_path / "yard.toml").write_text("[47x150\n", encoding="utf-8")
    assert longest_sold(tmp_path) == 0
