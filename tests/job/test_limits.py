"""A limit that is another figure: what was read is held to it as it stands, and is asked for again when it moves."""

from typing import Any

import pytest
from msgspec.structs import replace

from sitelog.checklist.schema.grammar import operand
from sitelog.checklist.schema.model import Check, Figure, Limit
from sitelog.job.actions import actions
from sitelog.job.show import to_json
from sitelog.reports.formatting import Formatter
from sitelog.wording.formatting import close_call, limit_text
from sitelog.wording.result import about_lines
from tests.job.roof import SEVEN, Desk, with_check


def held(rule: Any, of: str, says: str, *figures: Figure) -> Check:
    return Check(
        "held",
        "What is held",
        "measure",
        limit=Limit(rule, None, "house", "made-up", says, operand(of)),
        figures=figures,
    )


PRINTED = held("most", "@pitch", "the roof's own pitch", Figure("least", "pitch", "Least printed", "deg", exact=True))
RUN = held("least", "half @width", "half the span", Figure("value", "length", "Run"))
FIRST = Figure("first", "number", "First", "cm2")
SECOND = Figure(
    "second", "number", "Second", "cm2",
    limit=Limit("least", None, "house", "made-up", "the first", operand("=first")),
)  # fmt: skip
PAIR = Check("held", "Two openings", "measure", figures=(FIRST, SECOND))
MORE = Check(
    "held", "Two flows", "measure",
    figures=(FIRST, replace(SECOND, limit=Limit("over", None, "house", "made-up", "the first", operand("=first")))),
)  # fmt: skip
BY_MUCH = Check(
    "held", "Two flows", "measure",
    figures=(FIRST, replace(SECOND, limit=Limit("over", None, "house", "made-up", "by 9", operand("plus =first 9")))),
)  # fmt: skip
WIDER = held("over", "half @width", "half the span", Figure("value", "length", "Run"))
LATER = held("most", "@cover_headlap", "the headlap", Figure("value", "length", "Batten"))


def on_plates(check: Check, **texts: str) -> Desk:
    desk = Desk(with_check("plates", check)).to_plates()
    return desk.answer("main.plates.held", texts)


@pytest.mark.parametrize(
    ("check", "texts", "state"),
    [
        (PRINTED, {"least": "25"}, "done"),
        (PRINTED, {"least": "35"}, "done"),  # off print: nothing in it is uncertain
        (PRINTED, {"least": "36"}, "out"),
        (RUN, {"value": "3010"}, "done"),
        (RUN, {"value": "3000"}, "unsure"),
        (RUN, {"value": "2990"}, "out"),
        (PAIR, {"first": "79", "second": "80"}, "done"),
        (PAIR, {"first": "79", "second": "79"}, "done"),
        (PAIR, {"first": "79", "second": "78"}, "out"),
        (MORE, {"first": "79", "second": "79.1"}, "done"),
        (MORE, {"first": "79", "second": "79"}, "out"),  # as much is not more
        (BY_MUCH, {"first": "79", "second": "90"}, "done"),
        (BY_MUCH, {"first": "79", "second": "88"}, "out"),
        (WIDER, {"value": "3010"}, "done"),
        (WIDER, {"value": "3000"}, "unsure"),
        (WIDER, {"value": "2990"}, "out"),
    ],
)
def test_a_figure_is_held_to_another(check: Check, texts: dict[str, str], state: str) -> None:
    assert on_plates(check, **texts).check("main.plates.held").state == state


def test_a_limit_that_moves_opens_the_check_again() -> None:
    desk = on_plates(PRINTED, least="25")
    desk.do(actions.draw(desk.state, "main", {"pitch": "20"}))
    seen = desk.check("main.plates.held")
    assert (seen.state, seen.stale_because) == ("stale", ("main.pitch",))
    desk.do(actions.answer(desk.state, desk.library, seen.path, {"least": "25"}))  # told again: no reason is asked
    assert desk.check("main.plates.held").state == "out"


def test_a_limit_that_moves_by_a_hair_puts_an_answer_out_of_date_only_where_the_verdict_is_another() -> None:
    desk = on_plates(PRINTED, least="34.97")
    assert desk.check("main.plates.held").state == "done"
    desk.do(actions.draw(desk.state, "main", {"pitch": "34.98"}))
    assert desk.check("main.plates.held").state == "done"
    desk.do(actions.draw(desk.state, "main", {"pitch": "34.95"}))
    assert desk.check("main.plates.held").state == "stale"


def test_a_limit_is_told_with_its_name() -> None:
    desk = on_plates(PRINTED, least="36")
    seen, state = desk.check("main.plates.held"), desk.state
    assert limit_text(seen, state) == "at most 35.0°, the roof's own pitch (house)"
    assert Formatter(state, desk.library, SEVEN.tzinfo).limits(seen) == "at most 35.0°, the roof's own pitch (house)"  # type: ignore[arg-type]
    (part,) = [one for one in to_json(state)["parts"] if one["id"] == "main"]
    (shown,) = [check for stage in part["stages"] for check in stage["checks"] if check["id"] == "held"]
    assert shown["tolerance"] == 35
    assert shown["limits"] == {
        "least": {"rule": "most", "amount": 35.0, "origin": "house", "says": "the roof's own pitch"}
    }


def test_a_limit_that_is_not_known_yet_says_what_it_waits_for() -> None:
    desk = Desk(with_check("plates", LATER))
    desk.answer("job.start.drawings", {"value": "A-101"}).answer("job.start.moisture", {"value": "17"})
    desk.sign("job.start").do(actions.skip(desk.state, "main.finish.covering", "chosen later"))
    desk.sign("main.finish").answer("main.plates.held", {"value": "60"})
    seen = desk.check("main.plates.held")
    assert seen.state == "unsure"
    assert seen.refusal == "its limit needs cover headlap (at main.finish.covering or main.tiler.lap)"
    assert "At most the headlap, which is not known yet (house)" in about_lines(seen, desk.state)


def test_a_figure_that_is_asked_no_longer_does_not_make_an_old_answer_stale() -> None:
    """The roof's pitch less the least was typed once, and kept what it was meant to be."""
    less = Figure("spare", "number", "Pitch less that", "degrees", drawn=operand("minus @pitch =least"))
    old = Check("held", "What is held", "measure", figures=(PRINTED.figures[0], less))
    desk = on_plates(old, least="25", spare="3")
    desk.library = with_check("plates", PRINTED)
    assert desk.check("main.plates.held").state == "done"


@pytest.mark.parametrize(
    ("limit", "text", "state", "told"),
    [
        (
            Limit("least", 950, "published", "x"),
            "950",
            "unsure",
            "950 mm is on its limit for this tool: 952 mm or more passes, 948 mm or less is out",
        ),
        (
            Limit("most", 470, "published", "x"),
            "470",
            "unsure",
            "470 mm is on its limit for this tool: 468 mm or less passes, 472 mm or more is out",
        ),
        (Limit("least", 100, "published", "x"), "100.5", "unsure", "100.5 mm is too near its limit"),
        (Limit("least", 100, "published", "x"), "110", "done", ""),
        (Limit("least", 100, "published", "x"), "90", "out", ""),
    ],
)
def test_a_figure_on_its_limit_says_so(limit: Limit, text: str, state: str, told: str) -> None:
    """A tape can't tell which side of its limit it is on: nothing that is drawn would help."""
    desk = on_plates(
        Check("held", "Rail", "measure", limit=limit, figures=(Figure("value", "length", "Rail"),)), value=text
    )
    seen = desk.check("main.plates.held")
    assert (seen.state, seen.refusal) == (state, "")
    said = close_call(seen.figures[0], "metric")
    assert said.startswith(f"Rail: {told}") if told else not said
