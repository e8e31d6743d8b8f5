"""What a field says may be typed is of the figure's own size, and never an answer to copy in place of measuring."""

import re

import pytest

from sitelog.checklist.schema.model import Figure
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.made_up import made_up
from sitelog.job.actions.preview import preview
from sitelog.job.log.entry import Draft
from sitelog.job.state.verdicts import numbers
from sitelog.job.state.views import CheckView
from sitelog.quantities.quantity import ACCEPTS
from sitelog.wording.result import about_lines, takes_like
from tests.forms.dormers import EYEBROW
from tests.job.test_examples import JOBS
from tests.reports.site import Site
from tests.shipped import library

# What no usual figure is out of: straps and a gutter are far inside their limits wherever they are asked about.
ALL_PASS = {"gable-bc-straps.spacing", "gable-fg-straps.spacing", "straps.spacing", "channel.width", "cover.value"}


def shown(view: CheckView, figure: Figure) -> list[str]:
    """Each figure that a hint shows: `9000, 9m or 29'6"` shows three; a list with commas is one."""
    _, _, like = takes_like(view, figure).partition(" such as ")
    one = (figure.kind in ("lengths", "offsets") and [like]) or re.split(r", or (?:rise to run as )?|, | or ", like)
    return [text.replace("nominal inches such as ", "") for text in one if text]


@pytest.mark.parametrize("form", JOBS)
def test_each_hint_can_be_typed_and_is_no_answer_to_copy(form: str) -> None:
    site = JOBS[form]()
    checked = 0
    for view in site.state.checks():
        for figure in view.check.figures:
            texts = shown(view, figure)
            checked += len(texts)
            for text in texts:
                figure_value(site.state, library(), view, figure, text)
                assert not _near_drawn(site, view, figure, text), (view.path, figure.key, text)
            if texts and f"{view.check.id}.{figure.key}" not in ALL_PASS:
                would_be, _ = preview(site.state, library(), view, {figure.key: texts[0]})
                (seen,) = [one for one in would_be.figures if one.key == figure.key]
                assert seen.verdict != "pass", (view.path, figure.key, texts[0])
    assert checked > 40


def _near_drawn(site: Site, view: CheckView, figure: Figure, text: str) -> bool:
    """Within a twentieth of what is drawn, or of the figure that it is held to."""
    (drawn,) = [one.drawn for one in view.figures if one.key == figure.key]
    sizes = numbers(figure_value(site.state, library(), view, figure, text))
    return any(abs(abs(size) - abs(meant)) < abs(meant) / 20 for size in sizes for meant in numbers(drawn))


SIZES = {  # common practice: about what such a figure is on a hipped roof 9 m by 6 m
    ("job.before.scaffold", "rail"): (900, 1100),
    ("main.first-pair.sizes", "rafter"): (35, 60),
    ("main.ridge.plane", "value"): (2, 10),
    ("main.plates.sides", "ab"): (5000, 15000),
    ("main.plates.span", "at_p"): (4000, 9000),
    ("main.ridge.spacing", "ridge"): (300, 600),
    ("main.hips.straight", "a"): (2, 20),
    ("main.first-pair.pattern", "gap_top"): (1, 5),
}


def test_a_hint_is_of_the_size_of_its_figure() -> None:
    state = JOBS["hipped"]().state
    for (path, key), (least, most) in SIZES.items():
        view = state.check(path)
        assert view
        figure = view.check.figure(key)
        assert figure
        (size,) = numbers(figure_value(state, library(), view, figure, shown(view, figure)[0]))
        assert least <= size <= most, (path, key, size)


def test_levels_show_one_reading_for_each_point_and_are_out() -> None:
    state = JOBS["hipped"]().state
    view = state.check("main.plates.levels")
    assert view
    (figure,) = view.check.figures
    assert len(made_up(view, figure).split(",")) == 8
    would_be, _ = preview(state, library(), view, {"readings": made_up(view, figure)})
    assert would_be.verdict == "fail"


def test_a_string_line_is_out_by_its_hint() -> None:
    state = JOBS["hipped"]().state
    view = state.check("main.hip-lines.line-a")
    assert view
    texts = {figure.key: shown(view, figure)[0] for figure in view.check.figures}
    would_be, _ = preview(state, library(), view, texts)
    assert would_be.verdict == "fail"


def test_the_page_says_it_of_the_field_that_the_cursor_is_in() -> None:
    state = JOBS["hipped"]().state
    view = state.check("job.before.scaffold")
    assert view
    lines = about_lines(view, state, "rail")
    assert any(line.startswith("Lowest guard rail above the edge: a length such as 950 or 0.95m.") for line in lines)


def test_a_kind_that_needs_no_size_is_said_as_it_always_is() -> None:
    state = JOBS["hipped"]().state
    view = state.check("main.finish.pitch")
    assert view
    who = view.check.figure("who")
    assert who
    assert takes_like(view, who) == ACCEPTS["text"]


def test_a_pitch_held_to_one_that_no_table_has_is_hinted_plainly() -> None:
    """At least 35 degrees, as on an eyebrow's battens."""
    site = Site(parts=[("main", "Eyebrow", "eyebrow-dormer", EYEBROW)])
    site.do(Draft(act="answer", part="main", check="finish.lining", value={"value": "plain-tiles"}))
    hints = {
        view.path: [takes_like(view, figure) for figure in view.check.figures if figure.kind == "pitch"]
        for view in site.state.checks()
    }
    assert hints["main.ribs.climb"] == ["a pitch such as 35 or 35deg"]
