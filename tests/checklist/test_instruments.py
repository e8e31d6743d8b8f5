"""Each figure says what it is read with, and no limit is finer than that can prove."""

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from sitelog.checklist.load import lint, load
from sitelog.checklist.schema.instruments import ANGLED, INSTRUMENTS, TAPED, ReadWith, uncertainty_read
from sitelog.job.actions import actions
from tests.checklist.small import FILES, changed, write
from tests.forms.dormers import BARREL, EYEBROW
from tests.forms.test_firred_deck import DECK
from tests.forms.test_gabled import DRAWN as GABLED
from tests.forms.test_parapet_gutter import DRAWN as GUTTER
from tests.forms.test_table_top import DRAWN as TABLE_TOP
from tests.reports.site import Site
from tests.shipped import library

MEASURED = [
    (f"{form}.{stage.id}.{check.id}.{figure.key}", check, figure)
    for form, one in library().lists.items()
    for stage in one.stages
    for check in stage.checks
    for figure in check.figures
    if figure.kind in (*TAPED, *ANGLED) and not figure.exact
]
LARGE: Mapping[str, Mapping[str, str]] = {  # 14 m by 8 m, where a form is a whole roof: 16.1 m over its diagonals
    "hipped": {"length": "14000", "width": "8000", "pitch": "40", "design_mass": "70"},
    "gabled": {**GABLED, "length": "14000", "width": "8000", "pitch": "40", "design_mass": "70"},
    "table-top": {**TABLE_TOP, "length": "14000", "width": "8000", "pitch": "45", "design_mass": "70"},
    "firred-deck": DECK,
    "parapet-gutter": GUTTER,
    "barrel-dormer": BARREL,
    "eyebrow-dormer": EYEBROW,
}


def test_each_figure_says_what_it_is_read_with() -> None:
    assert not [path for path, _, figure in MEASURED if not figure.read_with]
    assert {figure.read_with for _, _, figure in MEASURED} == set(INSTRUMENTS)


# What the trade reads it with, wherever it is asked: words of the question, and the tool (common practice).
READ_WITH: list[tuple[str, str]] = [
    ("under a straightedge", "wedge"),
    ("under a 2 m straightedge", "wedge"),
    ("hollow", "wedge"),
    ("pattern tried", "wedge"),
    ("level readings", "staff"),
    ("distances off a string", "line"),
    ("bow in each hip", "line"),
    ("as delivered", "rule"),
    ("diagonals of", "tape"),
    ("two diagonals", "tape"),
    ("pitch of each slope", "level"),
]


@pytest.mark.parametrize(("words", "tool"), READ_WITH)
def test_what_is_measured_alike_is_read_alike(words: str, tool: str) -> None:
    """The length of a line, and of a pattern, is taped beside it."""
    asked = [figure for _, check, figure in MEASURED if words in check.ask.lower()]
    assert asked
    assert {figure.read_with for figure in asked if figure.kind != "length" or tool != "line"} <= {
        tool,
        *(("tape", "level") if "pattern" in words else ()),
        *(("tape",) if "delivered" in words else ()),
    }


def test_lint_finds_no_limit_of_the_shipped_lists_too_fine() -> None:
    assert lint([Path("checklists")]) == []


def within(site: Site) -> Iterator[tuple[str, float, float]]:
    """Every figure with a limit round its size as drawn: how near it can be told, and the limit."""
    for view in site.state.checks():
        for figure, asked in zip(view.figures, view.check.figures, strict=True):
            limit = figure.limit
            if not limit or limit.rule != "within" or limit.amount is None or asked.exact:
                continue
            size = abs(figure.drawn) if isinstance(figure.drawn, (int, float)) else 0.0
            u = uncertainty_read(figure.kind, size, figure.read_with, None)
            if u is not None:
                yield f"{view.path}.{figure.key} at {size:.0f}", u, limit.amount


@pytest.mark.parametrize("form", LARGE)
def test_no_limit_is_finer_than_its_instrument_proves_over_a_large_roof(form: str) -> None:
    """The instrument as it comes: a tape of class II, none better named."""
    site = Site(parts=[("main", "Part", form, LARGE[form])])
    rows = list(within(site))
    assert len(rows) > 5
    assert not [row for row in rows if row[1] > row[2]]


# U = 2 sqrt(sum of squares / 3) of the bounds (JCGM 100:2008, 4.3.7 and 6.2), by hand. A tape of class II over 3 m:
# 0.3 + 0.2 x 3 + 0.2 = 1.1 (SI 2016/1153, Schedule 1I), and 1.0 of reading.
BY_HAND: list[tuple[ReadWith, float, str | None, float]] = [
    ("wedge", 1.5, None, 0.2309),
    ("rule", 220, None, 0.5774),
    ("rule", 3000, None, 1.7166),
    ("line", 4, None, 1.1547),
    ("level", 4, None, 1.1547),
    ("staff", 4, None, 1.6330),
    ("tape", 3000, None, 1.7166),
    ("", 3000, None, 1.7166),
    ("tape", 3000, "I", 1.2910),
    ("tape", 3000, "", 1.1547),
]


@pytest.mark.parametrize(("read_with", "size", "grade", "u"), BY_HAND)
def test_how_near_each_instrument_tells(read_with: ReadWith, size: float, grade: str | None, u: float) -> None:
    """Class I over 3 m: 0.1 + 0.1 x 3 + 0.1 = 0.5. A rule ends at a metre: what is longer is taped."""
    assert uncertainty_read("length", size, read_with, grade) == pytest.approx(u, abs=5e-5)


@pytest.mark.parametrize("name", ["", "t-2"])
@pytest.mark.parametrize(("gap", "wedge", "tape"), [("1.5", "done", "unsure"), ("2.5", "out", "unsure")])
def test_a_gap_is_called_with_a_wedge_and_not_with_a_tape(name: str, gap: str, wedge: str, tape: str) -> None:
    """A limit of 2 mm: the wedge tells to 0.23, a class II tape, where somebody names one, to 1.41."""
    site = Site(parts=[("main", "Gutter", "parapet-gutter", GUTTER)])
    site.do(actions.instrument("t-2", "tape", "II"))
    site.up_to("main.feet.worst")
    view = site.state.check("main.feet.worst")
    assert view
    texts = {"seat": gap, "board": "0"}
    site.answer(view.path, texts, instrument=name)
    seen = site.state.check(view.path)
    assert seen and seen.state == (tape if name else wedge)
    assert seen.instrument == (name or "wedge gauge")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("amount = 15,", "amount = 1,", "a tape can be 1.5 out, so it can't show 1; name a finer tool with read_with"),
        (
            'kind = "measure"',
            'kind = "measure"\nread_with = "eye"',
            "read_with can't be 'eye'; it is one of tape, rule",
        ),
    ],
)
def test_lint_names_a_limit_that_its_tool_cannot_prove(tmp_path: Path, old: str, new: str, words: str) -> None:
    text = FILES["hipped"]
    assert old in text
    folder = write(tmp_path, hipped=changed("hipped", old, new))
    assert any(words in fault for fault in lint([folder], shipped=folder)), lint([folder], shipped=folder)


def test_a_firms_list_with_such_a_limit_still_loads(tmp_path: Path) -> None:
    folder = write(tmp_path, hipped=changed("hipped", "amount = 15,", "amount = 1,"))
    assert load(shipped=folder)
