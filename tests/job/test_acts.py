"""Every way to change a job, and what each refuses in one line."""

from collections.abc import Callable
from typing import Any

import pytest

from sitelog.calculators.catalogue import Value
from sitelog.checklist.lint.shapes import ITS_OWN
from sitelog.checklist.schema.model import Check, Figure
from sitelog.job.actions import actions
from sitelog.job.log.entry import Draft
from sitelog.job.log.values import from_plain, to_plain
from sitelog.job.photos.photo import Photo
from sitelog.quantities.quantity import Cut, Kind, Price, Section, Tie
from sitelog.refusal import Refusal
from tests.job.roof import LIBRARY, SIDES, Desk, anew, with_check

Act = Callable[[Desk], object]


def answering(path: str, texts: dict[str, str], *, done: str = "", **more: Any) -> Act:
    return lambda d: actions.done_at(actions.answer(d.state, d.library, path, texts, **more), done)


def strapped(**more: str) -> Act:
    return answering("main.plates.straps", {"value": "1900"}, **more)


THREE = {key: SIDES[key] for key in ("ab", "bc", "cd")}
LONG = "x" * 2000

REFUSED: list[tuple[Act, str]] = [
    # a measure
    (answering("main.plates.straps", {}), r"straps still needs value \(widest gap\)"),
    (answering("main.plates.sides", THREE), r"needs da \(DA\), ac \(AC\), bd \(BD\): type da=4800"),
    (answering("main.plates.sides", SIDES | {"bb": "1"}), r"called 'bb'; did you mean"),
    (answering("main.plates.straps", {"value": "yes"}), r"widest gap: 'yes' isn't a figure. Type a length"),
    (answering("main.plates.straps", {"value": "-5"}), r"widest gap: "),
    (answering("main.plates.straps", {"value": "nan"}), r"widest gap: 'nan'"),
    (answering("main.plates.straps", {"value": "9" * 400}), r"widest gap: "),
    (answering("main.plates.straps", {"value": "300m"}), r"must be 0 to 200000"),
    (strapped(instrument="T9"), r"tool 'T9' isn't on the list; did you mean T1"),
    (strapped(instrument="BAD"), r"BAD is marked bad. Measure again with another tape"),
    (strapped(done="7:30"), r"done: '7:30' isn't a time. Type it as"),
    (strapped(done="2026-03-02T07:30"), r"Type it as 2025-11-25T07:30\+00:00"),
    # six figures that no four plates can have
    (answering("main.plates.sides", SIDES | {"ac": "16000"}), r"\.sides: AC 16000 can't be longer than .*: check AC"),
    # the rest
    (answering("main.plates.sidse", SIDES), r"code 'main.plates.sidse'. Did you mean main.plates.sides"),
    (answering("main.plates", {}), r"main\.plates is a stage. Pick one of its checks, such as main\.plates\.sides"),
    (answering("main.tiler.lap", {"value": "75"}), r"main.tiler.lap doesn't apply to this"),
    (answering("main.finish.covering", {"value": "slate"}), r"'slate' isn't on the list; did you mean slates"),
    (answering("main.finish.covering", {}), r"needs one of: slates, tiles"),
    (answering("job.start.drawings", {"value": " "}), r"needs a few words"),
    (answering("job.start.drawings", {"value": "\x1b\u202e"}), r"needs a few words"),
    (lambda d: actions.skip(d.state, "main.plates.straps", "  "), r"To mark main.plates.straps not applicable, add"),
    (lambda d: actions.defer(d.state, "main.plates.straps", "hips", "..."), r"To leave main.plates.straps till"),
    (lambda d: actions.defer(d.state, "main.plates.straps", "finish", "wet"), r"isn't a later stage. Add when and"),
    (lambda d: actions.release(d.state, "main.plates", ""), r"main.plates, add a reason: --reason"),
    (lambda d: actions.release(d.state, "main.finish", "done"), r"main\.finish was already signed by A\. Foreman"),
    (lambda d: actions.sign(d.state, "main.finish"), r"main\.finish was already signed by A\. Foreman"),
    (lambda d: actions.sign(d.state, "main.plates.straps"), r"main.plates.straps is a check. Its stage is main.plates"),
    (lambda d: actions.sign(d.state, "main.plate"), r"No stage with the code 'main.plate'. Did you mean main.plates"),
    (lambda d: actions.snag(d.state, "", " "), r"Say what is wrong"),
    (lambda d: actions.snag(d.state, "barn", "loose"), r"code 'barn'"),
    (lambda d: actions.snag(d.state, "", "loose", due="Friday"), r"due: 'Friday' isn't a date"),
    (lambda d: actions.close_snag(d.state, "7"), r"snag 7. No snag"),
    (lambda d: actions.note(d.state, "main.plates", ""), r"Type the note"),
    (lambda d: actions.diary("2026-03-02"), r"Type the note in quotes after day"),
    (lambda d: actions.diary("2nd of March", text="wet"), r"day: '2nd of March' isn't a date"),
    (lambda d: actions.diary("2026-03-02", wether="wet"), r"'wether' isn't on the list; did you mean weather"),
    (lambda d: actions.instrument("T2", "tape", "IV"), r"class: 'IV' isn't a class of tape. Type I, II or III"),
    (lambda d: actions.instrument(" ", "tape"), r"Give the tool a name"),
    (lambda d: actions.doubt(d.state, "T7", "stretched"), r"tool 'T7' isn't on"),
    (lambda d: actions.doubt(d.state, "T1", " "), r"add a reason: --reason"),
    (lambda d: actions.doubt(d.state, "BAD", "stretched"), r"BAD was already marked bad by A\. Foreman"),
    (lambda d: actions.handover(d.state, "", "0" * 12), r"who the pack is for"),
    (lambda d: actions.accept(d.state, "main.tiler", True, head="0" * 12), r"000000000000. Read it again"),
    (lambda d: actions.accept(d.state, "main.tiler", False), r"To send main\.tiler back, say why"),
    (lambda d: actions.draw(d.state, "wing", {"pitch": "40"}), r"part 'wing' isn't on"),
    (lambda d: actions.draw(d.state, "main", {}), r"main: add a figure, such as pitch=37"),
    (lambda d: actions.draw(d.state, "main", {"pitch": "95"}), r"main\.pitch \(Pitch as drawn\): '95'"),
    # cautions
    (lambda d: actions.read_caution(d.state, d.library, "wind", ""), r"Wind at the ridge now, mph: nothing typed"),
    (lambda d: actions.read_caution(d.state, d.library, "wind", "yes"), r"'yes'.*Type a plain number"),
    (lambda d: actions.read_caution(d.state, d.library, "edge", "OK"), r"'OK' isn't a name. Say who, for example"),
    (lambda d: actions.read_caution(d.state, d.library, "edge", "x"), r"'x' isn't a name"),
    (lambda d: actions.read_caution(d.state, d.library, "wnd", "12"), r"'wnd'. Cautions at this stage: edge, wind"),
]  # fmt: skip


def at_plates() -> Desk:
    desk = Desk().to_plates()
    desk.do(actions.instrument("T1", "tape", "II"), actions.instrument("BAD", "tape", "III"))
    return desk.do(actions.doubt(desk.state, "BAD", "3 mm short against the steel rule"))


AT_PLATES = at_plates()


@pytest.mark.parametrize(("act", "line"), REFUSED)
def test_what_cannot_be_is_refused_in_one_line_that_names_it(act: Act, line: str) -> None:
    with pytest.raises(Refusal, match=line) as refused:
        act(AT_PLATES)
    assert "\n" not in refused.value.message
    assert refused.value.message.isprintable()
    assert len(refused.value.message) < 300


def test_nobody_s_name_signs_nothing() -> None:
    desk = Desk().to_plates()
    for name in ("", "  ", "\u200b", "..."):
        with pytest.raises(Refusal, match="name first"):
            desk.do(actions.note(desk.state, "main", "hello"), by=name)


def test_a_measure_takes_the_units_that_people_write() -> None:
    value = actions.answer(AT_PLATES.state, LIBRARY, "main.plates.straps", {"value": "1.9 m"}).value
    assert value["value"] == 1900.0
    feet = actions.answer(AT_PLATES.state, LIBRARY, "main.plates.straps", {"value": "6' 3\""}).value
    assert feet["value"] == 1905.0  # 75 x 25.4


def test_an_answer_keeps_the_evidence_it_rests_on() -> None:
    desk = Desk().to_hips()
    desk.do(actions.instrument("T1", "tape", "II"))
    texts = {"head": "400", "foot": "400", "gap": "3934"}
    value = actions.answer(desk.state, desk.library, "main.hips.gap", texts, instrument="T1").value
    assert value["@drawn"]["gap"] == pytest.approx(3934.2, abs=0.01)
    assert value["@instrument"] == "T1"
    cutting = actions.answer(desk.state, desk.library, "main.hips.cutting", {}).value
    assert cutting["@inputs"] == {"run": 3000.0, "pitch": 35.0, "section": "47x225"}
    # A regular hip on a run of 3000 at 35 degrees: 3000 x sqrt(2 + tan^2 35).
    assert cutting["@results"]["length_on_line"] == pytest.approx(4734.20, abs=0.01)


def test_an_answer_under_a_condition_keeps_what_the_condition_read() -> None:
    desk = Desk().to_hips("slates")
    value = actions.answer(desk.state, desk.library, "main.tiler.hooks", {"value": "hook"}).value
    assert value["@when"] == {"covering": "slates"}


def test_a_sum_is_not_accepted_while_a_figure_is_wanting_and_says_which_and_where() -> None:
    asked = Check("length", "Jack's length", "calculate", calculator="common", inputs={
        "run": LIBRARY.lists["hipped"].stages[1].checks[0].inputs["run"],
        "pitch": LIBRARY.lists["hipped"].stages[1].checks[0].inputs["pitch"]})  # fmt: skip
    undrawn = ("main", "Main", "hipped", {"length": "9000", "width": "6000"})
    desk = Desk(with_check("plates", asked), undrawn).to_plates()
    with pytest.raises(
        Refusal,
        match=r"can't be signed off yet: needs Pitch as drawn \(at main.hips.level\)",
    ):
        actions.answer(desk.state, desk.library, "main.plates.length", {})


def test_a_sum_that_cannot_be_worked_is_told_in_the_trade_s_words_and_nothing_is_saved() -> None:
    before = len(AT_PLATES.entries)
    with pytest.raises(Refusal, match="AB 30000 can't be longer than"):
        AT_PLATES.answer("main.plates.sides", SIDES | {"ab": "30000"})
    assert len(AT_PLATES.entries) == before


def test_a_tick_takes_no_words_and_a_second_tick_is_harmless() -> None:
    desk = Desk().to_plates().answer("main.plates.sides", SIDES).answer("main.plates.treated")
    with pytest.raises(Refusal, match=r"ticked by A. Foreman"):
        desk.answer("main.plates.treated")
    with pytest.raises(Refusal, match="It is a tick: run it again without 'yes'"):
        desk.answer("main.plates.treated", {"value": "yes"})


def test_a_tick_that_wants_a_photo_is_not_somebody_s_word_alone() -> None:
    desk = Desk().to_hips("tiles")
    with pytest.raises(Refusal, match="needs a photo"):
        desk.answer("main.tiler.ladder")
    assert desk.answer("main.tiler.ladder", {"photo": "3fa9.jpg"}).check("main.tiler.ladder").value == "3fa9.jpg"


def test_a_measure_with_no_figure_to_hold_it_to_is_kept_and_is_not_good() -> None:
    desk = Desk(LIBRARY, ("main", "Main", "hipped", {"length": "9000", "pitch": "35"})).to_plates()
    desk.answer("main.plates.span", {"left": "6001"})
    view = desk.check("main.plates.span")
    assert (view.state, view.figures[0].value) == ("unsure", 6001.0)
    assert "span at AD" in view.refusal


def test_a_photo_check_keeps_the_name_of_the_file() -> None:
    asked = Check("strap-photo", "A strap, close", "photo")
    desk = Desk(with_check("plates", asked)).to_plates().answer("main.plates.strap-photo", {"value": "9c.jpg"})
    assert desk.check("main.plates.strap-photo").value == "9c.jpg"
    with pytest.raises(Refusal, match="needs a photo"):
        desk.answer("main.plates.strap-photo", {"value": ""})


def test_what_an_answer_keeps_beside_its_figures_no_figure_can_be_called() -> None:
    """Lint bars these keys; an answer that kept another would lose it to a figure of that name."""
    photo = Photo(hash="0" * 64, type="jpeg", size=1, name="IMG_1.jpg")
    desk = Desk().to_plates()
    answers = [
        actions.answer(desk.state, LIBRARY, "main.plates.straps", {"value": "1900", "photo": "IMG_2"}, photos=[photo]),
        actions.answer(desk.state, LIBRARY, "main.plates.sides", SIDES | {"photo": "IMG_2"}, photos=[photo]),
        anew(desk.state, LIBRARY, "main.finish.covering", {"value": "tiles"}),
    ]
    kept = {key for answer in answers for key in answer.value if not key.startswith("@")}
    assert kept - set(SIDES) == set(ITS_OWN)


def test_a_list_of_readings_is_one_figure() -> None:
    asked = Check("levels", "Staff readings at the corners", "measure", calculator="levels", shows=("range",),
                  figures=(Figure("readings", "offsets", "readings"),))  # fmt: skip
    desk = Desk(with_check("plates", asked)).to_plates().answer("main.plates.levels", {"readings": "0,3,-2,1"})
    assert desk.check("main.plates.levels").figures[0].value == (0.0, 3.0, -2.0, 1.0)
    assert desk.check("main.plates.levels").value == 5.0


def test_a_point_sent_back_by_the_next_trade_becomes_a_snag() -> None:
    desk = Desk().to_plates()
    drafts = actions.accept(desk.state, "main.plates.straps", False, "no nails in two of them")
    desk.do(*drafts, by="C. Tiler", device="phone")
    assert [(p.point, p.accepted, p.by) for p in desk.state.points] == [("main.plates.straps", False, "C. Tiler")]
    assert [(s.path, s.text) for s in desk.state.open_snags] == [
        ("main.plates.straps", "main.plates.straps sent back: no nails in two of them")]  # fmt: skip
    desk.do(*actions.accept(desk.state, "main.plates.straps", True))
    assert desk.state.points[0].accepted


def test_undo_never_takes_back_what_the_job_was_set_up_with() -> None:
    desk = Desk()
    with pytest.raises(Refusal, match="nothing to undo yet"):
        desk.undo()
    desk.do(actions.draw(desk.state, "main", {"pitch": "40"})).undo()
    assert desk.state.facts["main.pitch"].now == 35.0


def test_undo_goes_back_one_act_at_a_time_without_limit() -> None:
    desk = Desk().to_plates()
    for number in range(5):
        desk.do(actions.note(desk.state, "main.plates", f"note {number}"))
    for _ in range(5):
        desk.undo()
    assert desk.state.next == "main.plates.sides"
    desk.undo()
    assert desk.state.stage("main.finish").state == "done"  # type: ignore[union-attr]


def test_words_are_cleaned_on_the_way_in() -> None:
    draft = actions.note(AT_PLATES.state, "main.plates", "  two\x1b[31m straps\u202e loose\x07 ")
    assert draft.note == "two[31m straps loose"
    assert len(actions.snag(AT_PLATES.state, "", LONG).value["text"]) == 500


def test_a_deferral_names_its_stage_whole() -> None:
    draft = actions.defer(AT_PLATES.state, "main.plates.straps", "hips", "scaffold in the way")
    assert draft.value == {"until": "main.hips"}


@pytest.mark.parametrize(
    ("kind", "value"),
    [
        ("length", 4500.5), ("offset", -3.0), ("pitch", 35.0), ("count", 12), ("text", "A-101"), ("choice", "tiles"),
        ("section", Section(47, 150)), ("section", Section(38, 140, "2x6")), ("lengths", (3600.0, 3605.0)),
        ("offsets", (0.0, -2.0)), ("ties", (Tie("A", "M", 4510.0),)), ("fall", 1 / 60), ("fraction", 1 / 3),
        ("cuts", (Cut(Section(38, 140, "2x6"), 4870.0, 12),)), ("prices", (Price(Section(47, 150), 4800.0, 21.6),)),
    ],
)  # fmt: skip
def test_a_value_comes_back_from_the_file_as_it_went_in(kind: Kind, value: Value) -> None:
    assert from_plain(kind, to_plain(value)) == value


@pytest.mark.parametrize(("kind", "raw"), [
    ("length", "4500"), ("length", True), ("section", "47"), ("section", 47), ("section", "nanx150"), ("lengths", 3.0),
    ("text", 3), ("ties", [["A", "M"]]), ("cuts", [["47x150", 3600]]),
    ("prices", [["47", 3600, 9]]), ("count", float("inf")), ("length", float("nan")),
])  # fmt: skip
def test_a_value_that_is_none_of_its_kind_is_no_value(kind: Kind, raw: Any) -> None:
    assert from_plain(kind, raw) is None


def test_every_act_makes_a_draft_of_its_own_name() -> None:
    draft = actions.handover(AT_PLATES.state, "C. Tiler", "0123456789ab")
    assert draft == Draft(act="handover", value={"to": "C. Tiler", "head": "0123456789ab"})


def test_a_head_code_countersigns_the_pack_that_was_made_at_it_and_no_other() -> None:
    desk = Desk().to_plates()
    first = desk.state.head
    desk.do(actions.handover(desk.state, "tiler", first))
    desk.do(actions.handover(desk.state, "tiler", desk.state.head))
    assert [pack.to for pack in desk.state.packs] == ["tiler", "tiler"]
    typed = f" {first[:6].upper()} {first[6:]} "
    desk.do(*actions.accept(desk.state, "main.plates", True, head=typed), by="P. Slater")
    (point,) = desk.state.points
    assert (point.by, point.head) == ("P. Slater", first)
    # What codes there are is not said: the next trade reads theirs off paper.
    with pytest.raises(Refusal, match=r"No pack of this job has the record code \w+\. Read it again, or leave it out$"):
        actions.accept(desk.state, "main.plates", True, head=desk.state.head)
