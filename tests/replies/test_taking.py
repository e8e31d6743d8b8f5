"""What a reply enters: each answer to its own pack, by the name on it, and a snag for each point sent back."""

from datetime import UTC
from pathlib import Path

import pytest
from msgspec.structs import replace

from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.replies.points import changed_since, kept_points, mark, numbered, standing
from sitelog.job.replies.taking import take
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.first_page import first_page
from sitelog.wording.handover import said, standing_lines
from tests.replies.desk import TODAY, Desk
from tests.shipped import library


def test_each_answer_is_an_entry_by_that_name_with_the_packs_code_and_a_point_sent_back_is_a_snag(desk: Desk) -> None:
    code = desk.state.packs[-1].head
    assert len(code) == 20
    paths = [view.path for view in numbered(desk.state, "tiler")]
    before = len(desk.job.entries)
    assert desk.enter(desk.reply((1, 3), {2: "no room for a stack", 4: "brace loose"})) == ()
    new = desk.job.entries[before:]
    assert [entry.act for entry in new] == ["accept", "accept", "snag", "accept", "accept", "snag"]
    assert {(entry.by, entry.value.get("head", code)) for entry in new} == {("J. Dunn", code)}
    assert [(snag.text, snag.path) for snag in desk.state.open_snags] == [
        ("Point 2 sent back: no room for a stack", paths[1]),
        ("Point 4 sent back: brace loose", paths[3]),
    ]
    assert [(point.point, point.accepted) for point in desk.state.points] == [
        (paths[0], True), (paths[1], False), (paths[2], True), (paths[3], False)]  # fmt: skip
    assert standing(desk.state).keys() == set(paths[:4]), "a snag makes no other point of it"


def test_the_handover_keeps_its_points_and_an_older_one_has_them_worked_again(desk: Desk) -> None:
    kept = kept_points(desk.job.entries[-1].value["points"])
    assert [path for path, _ in kept] == [view.path for view in numbered(desk.state, "tiler")]
    reply = desk.reply()
    desk.do(actions.undo(desk.state, desk.job.entries))  # as if it had been made without a name
    code = desk.state.head
    desk.do(actions.handover(desk.state, "tiler", reply.code))  # as it was entered before points were kept
    assert (code != reply.code, desk.enter(reply)) == (True, ())


def test_a_reply_to_an_older_pack_is_entered_for_that_pack_and_says_what_has_changed(desk: Desk) -> None:
    then = desk.state
    desk.drawings("R-101 B")
    assert desk.enter(desk.reply((1, 2), state=then)) == (1,)
    first, second = desk.state.points
    assert (changed_since(desk.state, first), changed_since(desk.state, second)) == (True, False)
    still = standing(desk.state)
    assert (said(first, still), said(second, still)) == ("changed", "accepted")
    assert standing_lines_of(desk).startswith("1 of "), "what has changed since is not accepted"
    desk.drawings("R-101 A")
    assert standing_lines_of(desk).startswith("2 of "), "it is again as it was in the pack that was answered"


def standing_lines_of(desk: Desk) -> str:
    return standing_lines(first_page(Formatter(desk.state, library(), UTC)), desk.state, "tiler")[1]


def test_an_answer_to_an_older_pack_that_comes_in_late_does_not_stand_before_one_to_a_newer(desk: Desk) -> None:
    then = desk.state
    desk.hand_over()
    desk.enter(desk.reply((1, 2)))
    desk.enter(desk.reply((), {1: "which revision?"}, state=then))
    assert [(point.accepted, point.note) for point in desk.state.points] == [(True, ""), (True, "")]
    assert [snag.text for snag in desk.state.open_snags] == ["Point 1 sent back: which revision?"], "its words are kept"


def test_a_second_reply_to_one_pack_changes_what_the_first_said(desk: Desk) -> None:
    desk.enter(desk.reply((1, 2)))
    desk.enter(desk.reply((1,), {2: "not there after all"}))
    assert [point.accepted for point in desk.state.points] == [True, False]


def refused(desk: Desk, *args: object, **more: object) -> str:
    before = desk.job.file.path.read_bytes(), desk.state
    with pytest.raises(Refusal) as found:
        take(desk.job, desk.reply(*args, **more), TODAY)  # type: ignore[arg-type]
    assert (desk.job.file.path.read_bytes(), desk.state) == before
    assert "\n" not in found.value.message
    return found.value.message


def test_a_reply_given_twice_is_told_and_one_that_was_undone_in_part_is_made_whole(desk: Desk) -> None:
    reply = desk.reply((1, 2, 3))
    desk.enter(reply)
    assert refused(desk, (1, 2, 3)) == "This reply by J. Dunn is in the record already. Nothing was entered again"
    desk.do(actions.undo(desk.state, desk.job.entries))
    before = len(desk.job.entries)
    desk.enter(reply)
    assert [entry.value["number"] for entry in desk.job.entries[before:]] == [3]


def test_a_reply_for_another_job_for_no_pack_and_from_a_day_to_come_are_told_apart(desk: Desk, tmp_path: Path) -> None:
    assert isinstance(tmp_path, Path)
    other = Desk(tmp_path / "dale-end.json", "Dale End", "phone-02")
    other.hand_over()
    with other.job:
        assert refused(desk, state=other.state).startswith("This reply is for another job, 'Dale End'. Nothing was")
    state = desk.state
    desk.do(actions.undo(desk.state, desk.job.entries))
    desk.do(actions.note(desk.state, "main", "dry"))
    assert desk.enter(desk.reply(state=state)) == (), "the entries lead to its code, though nobody entered the pack"
    lost = desk.reply(state=state)
    with pytest.raises(Refusal, match=r"No pack for the tiler with these points and record code f{20} here. Merge in"):
        take(desk.job, replace(lost, code="f" * 20, sum="0" * 16), TODAY)
    with pytest.raises(Refusal, match="No pack for the tiler with these points"):
        take(desk.job, replace(lost, print="0" * 8, sum="0" * 16), TODAY)
    with pytest.raises(Refusal, match="dated 4 Mar 2026, which is to come"):
        take(desk.job, replace(lost, day="2026-03-04", sum="0" * 16), TODAY)


def test_a_reply_entered_on_two_copies_raises_its_snag_once(desk: Desk) -> None:
    reply = desk.reply((1,), {2: "no room"})
    drafts = take(desk.job, reply, TODAY).drafts
    desk.job.do(drafts, desk.author("J. Dunn"))
    desk.job.do(drafts, Author(by="J. Dunn", device="phone-02", now=desk.author("").now))
    assert [snag.id for snag in desk.state.open_snags] == ["1"]


def test_an_answer_on_the_screen_is_to_the_point_as_it_stands(desk: Desk) -> None:
    desk.do(actions.accept(desk.state, "job.before.drawings", True), "P. Slater")
    assert [said(point, standing(desk.state)) for point in desk.state.points] == ["accepted"]
    desk.drawings("R-101 C")
    assert [said(point, standing(desk.state)) for point in desk.state.points] == ["changed"]


def test_the_job_opens_again_with_all_of_it(desk: Desk) -> None:
    desk.enter(desk.reply((1,), {2: "no room"}))
    state = desk.state
    desk.job.close()
    with Job.open(desk.job.file.path, library(), read_only=True) as again:
        assert (again.state.points, again.state.snags) == (state.points, state.snags)


SAME = ({"state": "snagged"}, {"by": "A. Dunn"}, {"at": "2026-03-02T08:00:00Z"}, {"note": "dry"}, {"late": True})
ANOTHER = ({"value": "R-101 C"}, {"stale_because": ("main.ab",)}, {"verdict": "unsure"}, {"history": ()})


def test_a_point_is_another_by_what_was_found_and_not_by_who_found_it_or_a_snag_on_it(desk: Desk) -> None:
    view = desk.state.check("job.before.drawings")
    assert view
    assert {mark(replace(view, **same)) for same in SAME} == {mark(view)}
    assert len({mark(view), *(mark(replace(view, **another)) for another in ANOTHER)}) == 1 + len(ANOTHER)


def test_a_figure_of_a_point_is_the_same_to_a_thousandth_of_a_mm(desk: Desk) -> None:
    view = desk.state.check("main.plates.sides")
    assert view

    def read(ab: float) -> str:
        assert view
        return mark(replace(view, figures=(replace(view.figures[0], value=ab), *view.figures[1:])))

    assert read(8996.0) == read(8996.0 + 1e-7) != read(8996.5)
