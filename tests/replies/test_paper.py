"""Answers off a printed pack: numbers and words as they are typed, and what is asked for where one is wrong."""

import re

import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.naming import a_day
from sitelog.job.replies.reply import written
from sitelog.job.session import Session
from sitelog.lines.session import LineSession
from sitelog.lines.talk import Talk
from sitelog.lines.walk import Walk
from sitelog.refusal import Refusal
from sitelog.wording.prompts.replying import from_paper, on_paper, packs_made
from tests.lines.listener import WIDE, ScriptedInput
from tests.replies.desk import TODAY, Desk

DATE, NAME = "2 Mar 2026", "P. Slater"

TYPED = {
    "runs and single ones": ("1-4, 6", "", (1, 2, 3, 4, 6), ()),
    "spaces in place of commas": ("1-4 6", "", (1, 2, 3, 4, 6), ()),
    "a word for the dash": ("1 to 4", "", (1, 2, 3, 4), ()),
    "a long dash": ("1 \u2013 4", "", (1, 2, 3, 4), ()),
    "one twice": ("3, 3", "", (3,), ()),
    "one sent back": ("1", "5 gap at hip", (1,), ((5, "gap at hip"),)),
    "two, with marks": ("", "5: 12 mm; wide. 6 - no clips;", (), ((5, "12 mm; wide. 6 - no clips"),)),
    "two, parted": ("", "5: gap; 6. no clips", (), ((5, "gap"), (6, "no clips"))),
}


@pytest.mark.parametrize("what", TYPED)
def test_numbers_are_typed_as_they_are_written_on_paper(desk: Desk, what: str) -> None:
    accepted, back, numbers, sent_back = TYPED[what]
    (made,) = packs_made(desk.state)
    reply = on_paper(desk.job, made, (accepted, back, DATE, NAME), TODAY).reply
    assert (reply.accepted, reply.back, reply.by, reply.day) == (numbers, sent_back, NAME, a_day(DATE, ""))


REFUSED = {
    "nothing": (("", "", DATE, NAME), r"Type the numbers accepted, such as 1-12, or one that is sent back and why"),
    "words": (("all of them", "", DATE, NAME), r"'all of them' isn't numbers of points\. Type them as 1-12, 15"),
    "a run backwards": (("9-4", "", DATE, NAME), r"'9-4' isn't numbers of points"),
    "past the last": (("1-900", "", DATE, NAME), r"Point \d+ isn't on that pack\. Its points are 1 to \d+"),
    "nought": (("0", "", DATE, NAME), r"'0' isn't numbers of points"),
    "no word why": (("1", "5", DATE, NAME), r"'5' needs a number and why, such as 13 gap at the hip"),
    "no number": (("1", "gap at hip", DATE, NAME), r"'gap at hip' needs a number and why"),
    "both ways": (("1-5", "5 gap", DATE, NAME), r"Point 5 is answered twice\. Leave it under accepted, or under sent"),
    "no date": (("1", "", "soon", NAME), r"date: 'soon' isn't a date\. Type it as 4 Dec 2026"),
    "a day to come": (("1", "", "9 Mar 2026", NAME), r"dated 9 Mar 2026, which is to come"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_wrong_on_the_form_for_paper_is_told_in_one_line(desk: Desk, what: str) -> None:
    words, told = REFUSED[what]
    (made,) = packs_made(desk.state)
    prompt = from_paper(desk.job, made, TODAY)
    assert len(prompt.questions) == len(words)
    with pytest.raises(Refusal, match=told) as refused:
        prompt.make(words)
    assert "\n" not in refused.value.message


def test_answers_off_paper_are_those_of_a_reply_and_given_twice_are_told(desk: Desk) -> None:
    (made,) = packs_made(desk.state)
    words = ("1, 3", "2 no room", DATE, "J. Dunn")
    desk.enter(desk.reply((1, 3), {2: "no room"}))
    with pytest.raises(Refusal, match=r"This reply by J\. Dunn is in the record already"):
        on_paper(desk.job, made, words, TODAY)


def test_an_older_pack_whose_numbers_began_again_with_each_part_is_not_answered_by_number(desk: Desk) -> None:
    code = desk.state.head
    desk.do(actions.handover(desk.state, "tiler", code[:12]))
    assert [made.head for made in desk.state.packs][-1] == code[:12]
    assert code[:12] not in [made.head for made in packs_made(desk.state)]


def test_line_by_line_a_reply_beside_the_job_is_told_at_the_start_and_entered_and_so_is_paper(desk: Desk) -> None:
    file = desk.job.file.path
    file.with_name("reply.txt").write_text(written(desk.reply((1,), {2: "no room"})), encoding="utf-8")
    desk.drawings("R-101 B")
    says = ("replies", "1", "1", "replies", "1", "3-5", "6 gap", "1", NAME, "quit")
    heard = ScriptedInput(says)
    talk = Talk(heard.read_line, heard.heard.append, width=WIDE)
    session = LineSession(talk, Session(desk.job), by="M. Reed", clock=lambda: desk.author("").now, device="tablet01")
    assert Walk(session).run() == 0
    told = "\n".join(heard.heard)
    assert (
        "Reply from J. Dunn, tiler, 2 Mar 2026: 1 accepted, 1 sent back (reply.txt). Type replies to enter it." in told
    )
    assert "Point 1 changed since that pack. This answer counts for that pack only: hand over again." in told
    assert re.search(r"1 point answered for that pack changed since", told)
    assert {(point.by, point.accepted) for point in desk.state.points} == {
        ("J. Dunn", True), ("J. Dunn", False), (NAME, True), (NAME, False)}  # fmt: skip
    assert session.by == "M. Reed"
