"""An answer that stands is answered anew only with the reason, and what it was is kept."""

import pytest
from msgspec.structs import replace

from sitelog.job.actions import actions
from sitelog.job.state.corrections import ReasonWanted, corrections
from sitelog.refusal import Refusal
from tests.job.roof import LIBRARY, Desk

STRAPS = "main.plates.straps"


def test_an_answer_that_stands_is_answered_anew_only_with_the_reason_and_both_are_kept() -> None:
    desk = Desk().to_plates().answer(STRAPS, {"value": "1900"})
    for note in ("", " ", "--"):
        with pytest.raises(Refusal, match=f"{STRAPS} was answered by A. Foreman: add a reason for changing it"):
            actions.answer(desk.state, LIBRARY, STRAPS, {"value": "1750"}, note=note)
    desk.do(
        actions.answer(desk.state, LIBRARY, STRAPS, {"value": "1750"}, note="read from the wrong end"), by="B. Mate"
    )
    view = desk.check(STRAPS)
    assert view.value == 1750
    assert [(c.was.value["value"], c.was.by, c.now.by, c.reason) for c in corrections(view)] == [
        (1900, "A. Foreman", "B. Mate", "read from the wrong end")
    ]


def test_of_an_answer_gone_stale_no_reason_is_asked_and_what_changed_is_the_reason() -> None:
    desk = Desk().to_hips().answer("main.hips.cutting", {})
    desk.do(actions.draw(desk.state, "main", {"pitch": "40"}))
    assert desk.check("main.hips.cutting").state == "stale"
    desk.do(actions.answer(desk.state, LIBRARY, "main.hips.cutting", {}))
    (correction,) = corrections(desk.check("main.hips.cutting"))
    assert correction.reason == "a figure it used had changed"


def test_of_a_stale_answer_whose_figures_are_told_otherwise_the_reason_is_asked() -> None:
    """What has changed under it does not say why a tape reads otherwise."""
    told, path = {"head": "400", "foot": "400", "gap": "3934"}, "main.hips.gap"
    desk = Desk().to_hips().answer(path, told)
    desk.do(actions.draw(desk.state, "main", {"pitch": "40"}))
    assert desk.check(path).stale_because == ("main.hip_a",)
    actions.answer(desk.state, LIBRARY, path, told)  # the same again: what has changed is the reason
    with pytest.raises(ReasonWanted, match="add a reason for changing it"):
        actions.answer(desk.state, LIBRARY, path, told | {"gap": "3930"})
    desk.do(replace(actions.answer(desk.state, LIBRARY, path, told | {"gap": "3930"}, note="x"), note=""))
    assert corrections(desk.check(path))[-1].reason == "no reason given"


def test_what_was_taken_back_is_no_answer_and_no_correction() -> None:
    desk = Desk().to_plates().answer(STRAPS, {"value": "1900"}).undo()
    desk.do(actions.answer(desk.state, LIBRARY, STRAPS, {"value": "1750"}))
    assert corrections(desk.check(STRAPS)) == ()
    desk.answer(STRAPS, {"value": "1800"}, note="entered wrong").undo()
    assert (desk.check(STRAPS).value, corrections(desk.check(STRAPS))) == (1750, ())


def test_a_record_from_before_reasons_were_asked_says_that_none_was_given() -> None:
    desk = Desk().to_plates().answer(STRAPS, {"value": "1900"})
    desk.do(replace(actions.answer(desk.state, LIBRARY, STRAPS, {"value": "1750"}, note="x"), note=""))
    (correction,) = corrections(desk.check(STRAPS))
    assert correction.reason == "no reason given"


@pytest.mark.parametrize("was", ["20251124", 7, {"a": 1}, [None, 3, "0"], ["20251124T070000000Z"]])
def test_what_a_file_says_was_corrected_is_taken_only_where_it_is_there(was: object) -> None:
    desk = Desk().to_plates()
    draft = actions.answer(desk.state, LIBRARY, STRAPS, {"value": "1750"})
    desk.do(replace(draft, value=dict(draft.value) | {"@was": was}))
    assert corrections(desk.check(STRAPS)) == ()
