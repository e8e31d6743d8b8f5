"""The cutting list as the saw takes it: batches of the sample counted by hand, and what holds of any list."""

import shutil
from collections import Counter
from copy import copy
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitelog.calculators.timber.members import End, Member
from sitelog.job.actions import actions
from sitelog.job.actions.counting import batch_named, tally
from sitelog.job.batches import Batch, batches, kind_of, not_wanted, side_of, still_short
from sitelog.job.job import Job
from sitelog.job.members import Line, Standing
from sitelog.job.state.record_views import Tally
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from sitelog.reports.timber.entries import all_lines, counted, entries, marks, to_order
from sitelog.reports.timber.sheets import BATCH_COLUMNS, write_batches
from tests.reports.site import Site
from tests.shipped import library

SAMPLE = Path(__file__).parent.parent.parent / "sample_site" / "kiln-lane.json"
SIDES = {"ab": "8996", "bc": "6003", "cd": "9007", "da": "6002", "ac": "10826", "bd": "10813"}


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> list[Batch]:
    file = tmp_path_factory.mktemp("sample") / "job.json"
    shutil.copy(SAMPLE, file)
    with Job.open(file, library(), read_only=True) as job:
        return batches(all_lines(job.state, library(), "main"))


def test_the_samples_main_roof_is_cut_in_55_batches(sample: list[Batch]) -> None:
    """Counted by hand off the list of single pieces. Corners A and D have the same cuts to a tenth of a degree: of
    their seven jacks five are within 2 mm of each other and two are not, so nine lengths, each left and right; B and C
    have seven lengths each. Commons: 18 alike, and the two of the hipped ends 5 mm shorter. Hips: A with D, B, C.
    Plates BC and DA are half a mm apart, AB and CD 5.5.
    """
    found = Counter(batch.alike.what for batch in sample)
    assert found == {"Jack": 2 * (9 + 7 + 7), "Common": 2, "Hip": 3, "Plate": 3, "Ridge": 1}
    (commons,) = (batch for batch in sample if batch.count == 18)
    assert (commons.alike.what, round(commons.length)) == ("Common", 4112)
    assert [piece.mark for piece in commons.pieces] == [f"{side} {n}" for side in ("AB", "CD") for n in range(1, 10)]


def test_a_saw_is_set_once_for_each_tilt_and_lefts_are_cut_before_rights(sample: list[Batch]) -> None:
    jacks = [batch for batch in sample if batch.alike.what == "Jack"]
    assert [batch.alike.cuts for batch in jacks] == sorted(batch.alike.cuts for batch in jacks), "one setting at a time"
    for before, after in pairwise(jacks):
        if before.alike.cuts == after.alike.cuts:
            assert (before.hand, -before.length) < (after.hand, -after.length), "left before right, long before short"


@pytest.mark.parametrize(
    ("says", "kind", "side"),
    [
        ("Common on AB", "Common", "AB"),
        ("Common of the hipped end BC", "Common", "BC"),
        ("Jack at A", "Jack", "A"),
        ("Plate AB, half lapped", "Plate", "AB"),
        ("Hip at C, hollow head or clipped corner", "Hip", "C"),
        ("Noggin of the ladders at gable DA, one slope of two", "Noggin", "DA"),
        ("Joist of the flat", "Joist", ""),
        ("Ridge, barge to barge", "Ridge", ""),
    ],
)
def test_a_timber_is_called_by_its_name_and_marked_by_its_side(says: str, kind: str, side: str) -> None:
    assert (kind_of(says), side_of(says)) == (kind, side)


# --- any list -----------------------------------------------------------------------------------------------------

ends = st.builds(
    End,
    cut=st.sampled_from([0.0, 35.0, 35.04, 40.0]),
    bevel=st.sampled_from([0.0, 50.7, 50.9]),
    tilt=st.sampled_from([0.0, 45.0, 45.2]),
    hand=st.sampled_from(["", "left", "right"]),
)
members = st.builds(
    Member,
    part=st.just("Common on AB"),
    section=st.sampled_from([Section(47, 150), Section(47, 225)]),
    length=st.floats(300, 6000),
    count=st.integers(1, 20),
    head=ends,
)
lines = st.builds(
    Line,
    part=st.sampled_from(["main", "deck"]),
    id=st.sampled_from(["commons-ab", "jacks-a"]),
    says=st.sampled_from(["Common on AB", "Jack at A"]),
    standing=st.sampled_from(["built", "drawn", "stale"]),
    member=members,
    number=st.integers(1, 40).map(str),
)


@given(st.lists(lines, max_size=30), st.floats(0, 5))
def test_no_piece_is_lost_or_too_long_for_its_place_or_cut_at_anothers_angle(found: list[Line], same: float) -> None:
    made = batches(found, same=same)
    good = [line for line in found if line.good]
    assert sorted(map(id, good)) == sorted(id(piece.line) for batch in made for piece in batch.pieces)
    for batch in made:
        for piece in batch.pieces:
            member = piece.line.member
            assert member is not None
            assert batch.length - 1e-9 <= member.length <= batch.length + batch.spread + 1e-9
            assert (member.section, piece.line.part, piece.line.standing) == (
                batch.section,
                batch.alike.part,
                batch.standing,
            )
            for name in ("cut", "bevel", "tilt"):
                assert abs(getattr(member.head, name) - getattr(batch.head, name)) < 0.1
            assert (member.head.hand or member.foot.hand) == batch.hand
        assert batch.spread <= same + 1e-9


@given(st.lists(lines, max_size=12), st.randoms())
def test_the_batches_do_not_depend_on_the_order_of_the_list(found: list[Line], random: object) -> None:
    turned = list(found)
    random.shuffle(turned)  # type: ignore[attr-defined]
    told = [(batch.alike, round(batch.length, 6), batch.count) for batch in batches(found)]
    assert told == [(batch.alike, round(batch.length, 6), batch.count) for batch in batches(turned)]


@given(st.lists(lines, min_size=1, max_size=12), st.integers(0, 30))
def test_an_order_asks_for_what_is_wanted_less_what_is_good(found: list[Line], cut: int) -> None:
    made = batches(found)
    if not made:
        return
    done = min(cut, made[0].count)
    tallies = (Tally(made[0].alike, made[0].length, done, 0, 0, "", ""),)
    again = batches(found, tallies)
    short = sum(batch.short for batch in again)
    assert short == sum(batch.count - batch.good for batch in again)
    left = still_short(found, again)
    wanted = sum(line.member.count for line in left if line.good and line.member)
    assert wanted == short


def common(length: float, count: int, standing: Standing = "built") -> Line:
    member = Member("Common on AB", Section(47, 150), length, count)
    return Line("main", "commons-ab", "Common on AB", standing, member, number="1")


@pytest.mark.parametrize(
    ("found", "counted_at", "short"),
    [
        ([common(4112, 2), common(4112, 1, "drawn")], 4112, [0, 1]),  # what stands on the roof goes first
        ([common(4115, 2), common(4112, 2)], 4114, [0, 2]),  # within 2 mm of both, and nearer to the first
        ([common(4115, 2), common(4112, 2)], 4113, [2, 0]),
    ],
)
def test_no_piece_is_counted_for_two_batches(found: list[Line], counted_at: float, short: list[int]) -> None:
    alike = batches(found)[0].alike
    again = batches(found, [Tally(alike, counted_at, 2, 0, 0, "", "")])
    assert [batch.short for batch in again] == short


# --- counted ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def begun() -> Site:
    site = Site()
    site.up_to("main.first-pair", {"main.plates.sides": SIDES})
    return site


@pytest.fixture
def built(begun: Site) -> Site:
    return copy(begun)


def named(site: Site, words: str) -> Batch:
    return batch_named(counted(all_lines(site.state, library()), site.state), words)


def test_counts_add_up_and_a_spoiled_one_is_cut_again(built: Site) -> None:
    wanted = named(built, "common 4112")
    built.do(tally(wanted, {"cut": "6", "up": "2"}))
    built.do(tally(named(built, "common 4112"), {"cut": "3", "spoiled": "1"}))
    batch = named(built, "common 4112")
    assert (batch.cut, batch.up, batch.spoiled, batch.good, batch.short) == (9, 2, 1, 8, wanted.count - 8)
    left = to_order(all_lines(built.state, library()), built.state)
    assert (
        sum(line.member.count for line in left if line.member)
        == sum(line.member.count for line in all_lines(built.state, library()) if line.member) - 8
    )
    (told,) = (one for one in entries(all_lines(built.state, library()), built.state) if one.batch == batch)
    assert told.more.startswith(f"cut 9, up 2, spoiled 1, short {batch.short}")


def test_undo_takes_a_count_back(built: Site) -> None:
    built.do(tally(named(built, "common 4112"), {"cut": "6"}))
    built.do(actions.undo(built.state, built.entries))
    assert named(built, "common 4112").cut == 0


@pytest.mark.parametrize(
    ("counts", "says"),
    [
        ({}, "Nothing to count: type how many more are cut, up or spoiled, such as 6"),
        ({"cut": "six"}, "Cut is 'six': type a whole number, such as 6, or -1 to take one off"),
        ({"cut": "2.5"}, "Cut is '2.5'"),
        ({"cut": "19"}, "That makes 19 good ones of 18: type only those cut since the last count"),
        ({"cut": "-1"}, "That makes -1 cut: 0 so far, so take off at most 0"),
        ({"spoiled": "1"}, "1 spoiled but only 0 cut: count those as cut too"),
        ({"up": "1"}, "1 up but only 0 good ones cut: count those as cut first"),
    ],
)
def test_a_count_that_can_not_be_is_refused_in_one_line(built: Site, counts: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal) as refused:
        tally(named(built, "common 4112"), counts)
    assert refused.value.message.startswith(says)


def test_a_name_that_fits_two_batches_names_both(built: Site) -> None:
    with pytest.raises(Refusal, match=r"could be 2 of the list. Type one of: main jack .* left; main jack .* right"):
        named(built, "jack b 1")
    with pytest.raises(Refusal, match="No timber called 'purlin' on the cutting list"):
        named(built, "purlin")


def test_what_was_cut_before_the_tape_was_read_again_is_told_and_not_counted(built: Site) -> None:
    """The plates come out 40 mm wider: commons of 4112 are no use for rafters of 4136, and nobody is told they are."""
    built.do(tally(named(built, "common 4112"), {"cut": "6"}))
    wider = {"ab": "8996", "bc": "6043", "cd": "9007", "da": "6042", "ac": "10848", "bd": "10836"}
    built.answer("main.plates.sides", wider)
    lines_now = all_lines(built.state, library())
    found = counted(lines_now, built.state)
    assert all(batch.cut == 0 for batch in found)
    (before,) = not_wanted(found, built.state.tallies)
    assert round(before.length) == 4112
    told = [one.more for one in entries(lines_now, built.state) if one.what.startswith("Common 4112")]
    assert told == ["6 cut to a length or an angle that has changed. Try them before you use them."]


def test_a_count_in_a_file_that_is_no_number_counts_nothing(built: Site) -> None:
    draft = tally(named(built, "common 4112"), {"cut": "6"})
    built.do(replace(draft, value={**draft.value, "cut": "six", "up": 1.5, "spoiled": True}))
    batch = named(built, "common 4112")
    assert (batch.cut, batch.up, batch.spoiled) == (0, 0, 0)


def test_a_batch_is_a_row_of_a_file_with_its_units_in_the_headings(built: Site) -> None:
    rows = write_batches(counted(all_lines(built.state, library()), built.state)).splitlines()
    assert rows[0] == ",".join(BATCH_COLUMNS)
    assert any(row.startswith('main,Common,47x150,4111.8,0.2,18,,"AB 1 to 9, CD 1 to 9",35.0,') for row in rows)


def test_pieces_of_rows_without_numbers_are_each_marked_by_their_own(built: Site) -> None:
    (ends,) = (
        batch for batch in counted(all_lines(built.state, library()), built.state) if batch.alike.what == "Ridge"
    )
    lines = [replace(ends.pieces[0].line, says="Diagonal firring, corner", number=corner) for corner in "abcd"]
    (batch,) = batches(lines)
    assert marks(batch) == "a, b, c, d"
