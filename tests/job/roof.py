"""A small hipped roof and its checklists, made by hand for the tests of the job. Limits and names are made up."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from msgspec.structs import replace

from sitelog.checklist.schema.grammar import condition, operand
from sitelog.checklist.schema.guidance import Caution, Finish, FinishFact, Question
from sitelog.checklist.schema.model import Check, Checklist, Choice, FactSpec, Figure, Library, Limit, Stage, Sum
from sitelog.checklist.schema.terms import Operand
from sitelog.job.actions import actions
from sitelog.job.actions.sealing import sealed
from sitelog.job.actions.setup import JobSetup, start
from sitelog.job.cautions.due import awaited, unread
from sitelog.job.log.entry import Author, Draft, Entry
from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.replay import replay
from sitelog.job.state.views import CheckView, State

SEVEN = datetime(2026, 3, 2, 7, 0, tzinfo=UTC)
SIDES = {"ab": "9000", "bc": "6000", "cd": "9000", "da": "6000", "ac": "10816.7", "bd": "10816.7"}
OUT_OF_SQUARE = {"ab": "9000", "bc": "6000", "cd": "9010", "da": "6005", "ac": "10830", "bd": "10812"}


def ops(**texts: str | float) -> dict[str, Operand]:
    return {name: operand(text) for name, text in texts.items()}


def limit(rule: Any, amount: float) -> Limit:
    return Limit(rule, amount, "house", "made-up")


def tick(id: str, **more: Any) -> Check:
    return Check(id, f"{id} done", "tick", **more)


JOB = Checklist(
    "job", "Whole job", "job",
    stages=(
        Stage("start", "Before the start", hold=True, place="first", checks=(
            Check("drawings", "Which drawings are on site", "note", sets="drawings"),
            Check("moisture", "Moisture of the wettest timber, per cent", "measure", sets="",
                  figures=(Figure("value", "number", "moisture", "%", sets="moisture"),), limit=limit("most", 20)),
        )),
        Stage("finish", "Finish", hold=True, checks=(
            Check("covering", "Covering of the slopes", "choice", finishes="slopes", sets="covering",
                  choices=(Choice("slates", "Slates"), Choice("tiles", "Plain tiles"))),
        )),
        Stage("handover", "Hand over", hold=True, place="last", cautions=("edge",), checks=(
            tick("walked"), Check("accepted", "Next trade accepts", "sign"),
        )),
    ),
    facts=(FactSpec("drawings", "text", "Drawings"), FactSpec("moisture", "number", "Moisture", "%"),
           FactSpec("covering", "choice", "Covering")),
    sums=(), sources={}, file="job.toml", digest="j" * 64,
)  # fmt: skip

PLATES = Stage(
    "plates", "Wall plates", hold=True, cautions=("edge", "wind"),
    checks=(
        Check("sides", "Four sides and two diagonals, outside faces", "measure", calculator="squareness",
              shows=("diagonal_difference",), limit=limit("within", 10), three_ways=True,
              figures=tuple(Figure(key, "length", key.upper(), drawn=operand(f"@{key}"), sets=key) for key in SIDES)),
        Check("straps", "Widest gap between straps, mm", "measure", limit=limit("most", 2000),
              figures=(Figure("value", "length", "widest gap"),)),
        Check("span", "Span at both ends", "measure", limit=limit("within", 10),
              figures=(Figure("left", "length", "span at AD", drawn=operand("@width")),
                       Figure("right", "length", "span at BC", drawn=operand("@width"), optional=True))),
        tick("treated", needs=("sides",)),
    ),
)  # fmt: skip

HIPS = Stage(
    "hips", "Hips",
    checks=(
        Check("cutting", "Hip at A, on the line", "calculate", calculator="hip", shows=("length_on_line",),
              inputs=ops(run="half @width", pitch="@pitch", section="@section")),
        Check("gap", "Gap between head and foot pieces", "measure", limit=limit("within", 3),
              figures=(Figure("head", "length", "head piece"), Figure("foot", "length", "foot piece"),
                       Figure("gap", "length", "gap", drawn=operand("minus @hip_a =head =foot")))),
        Check("level", "Pitch as built", "measure", limit=limit("within", 0.5), figures=(
            Figure("value", "pitch", "pitch", "deg", drawn=operand("@pitch"), sets="pitch"),)),
    ),
)  # fmt: skip

TILER = Stage(
    "tiler", "For the tiler",
    checks=(
        Check("hooks", "Hook or nail", "choice", choices=(Choice("hook", "Hook"), Choice("nail", "Nail")),
              when=condition("covering is slates")),
        tick("ladder", photo=True, when=condition("not covering is slates")),
        Check("lap", "Headlap used, mm", "measure", limit=limit("least", 65), when=condition("covering is tiles"),
              figures=(Figure("value", "length", "headlap", drawn=operand("@cover_headlap"), sets="cover_headlap"),)),
    ),
)  # fmt: skip

HIPPED = Checklist(
    "hipped", "Cut hipped roof", "hipped", stages=(PLATES, HIPS, TILER),
    facts=(
        FactSpec("length", "length", "Plate AB as drawn", asked=True),
        FactSpec("width", "length", "Plate BC as drawn", asked=True),
        FactSpec("pitch", "pitch", "Pitch as drawn", "deg", asked=True),
        FactSpec("section", "section", "Hip section", "", asked=True, default="47x225"),
        *(FactSpec(key, "length", key.upper(), worked=operand(f"@{of}"))
          for key, of in (("ab", "length"), ("bc", "width"), ("cd", "length"), ("da", "width"))),
        *(FactSpec(key, "length", key.upper(), worked=operand("hypot @length @width")) for key in ("ac", "bd")),
    ),
    sums=(Sum("roof", "roof", ops(**{key: f"@{key}" for key in SIDES}, pitch="@pitch"),
              {f"hip_{c}": f"hips.{c}.length" for c in "abcd"} | {"ridge": "ridge_length"}),),
    sources={}, file="hipped.toml", digest="h" * 64,
)  # fmt: skip


def caution(id: str, question: Question, **more: Any) -> Caution:
    return Caution(id, f"{id} caution", "hurts", "do", "the site manager", question, **more)


CAUTIONS = (
    caution("edge", Question("Who checked the edge today", "name"), repeat="once", stops=True),
    caution("wind", Question("Wind at the ridge now, mph", "number", "mph", stop_from=23), repeat="daily"),
    caution("dust", Question("Where are slates cut", "place"), repeat="change", when=condition("covering is slates")),
)


def finish(id: str, headlap: float, *cautions: str) -> Finish:
    return Finish(id, id, ("slopes",), "", cautions, (FinishFact("cover_headlap", "length", headlap, "made-up"),), ())


FINISHES = (finish("slates", 80.0, "dust"), finish("tiles", 65.0))
LIBRARY = Library(
    lists={"job": JOB, "hipped": HIPPED},
    cautions={one.id: one for one in CAUTIONS},
    finishes={one.id: one for one in FINISHES},
    sources={},
    digests={"job": "j" * 64, "hipped": "h" * 64},
)


def with_check(stage_id: str, check: Check) -> Library:
    """The same library with one more check at the end of a stage of the hipped roof."""
    stages = tuple(replace(s, checks=(*s.checks, check)) if s.id == stage_id else s for s in HIPPED.stages)
    return replace(LIBRARY, lists={"job": JOB, "hipped": replace(HIPPED, stages=stages)})


class Desk:
    """A job kept in memory: the acts of a day, one a minute, by one person on one device unless said otherwise."""

    def __init__(self, library: Library = LIBRARY, *parts: tuple[str, str, str, Mapping[str, str]]) -> None:
        self.library = library
        self.entries: list[Entry] = []
        self.minutes = 0.0
        figures = {"length": "9000", "width": "6000", "pitch": "35"}
        roofs = parts or [("main", "Main roof", "hipped", figures)]
        self.do(*start(library, JobSetup(title="Long barn", place="Upper field", units="metric", parts=roofs)))

    @property
    def state(self) -> State:
        return replay(self.library, self.entries)

    def check(self, path: str) -> CheckView:
        found = {c.path: c for part in self.state.parts for stage in part.stages for c in stage.checks}
        return found[path]

    def author(self, by: str = "A. Foreman", device: str = "tablet1") -> Author:
        return Author(by, device, SEVEN + timedelta(minutes=self.minutes))

    def do(self, *drafts: Draft, by: str = "A. Foreman", device: str = "tablet1", after: float = 1.0) -> "Desk":
        self.minutes += after
        self.entries += sealed(drafts, self.author(by, device), self.entries)
        return self

    def answer(self, path: str, texts: Mapping[str, str] | None = None, after: float = 1.0, **more: Any) -> "Desk":
        return self.do(anew(self.state, self.library, path, texts or {}, **more), after=after)

    def sign(self, path: str) -> "Desk":
        """Signed, what stops it read first."""
        for read in clearing(self.state, self.library, path):
            self.do(read, after=0.01)
        return self.do(actions.sign(self.state, path))

    def undo(self) -> "Desk":
        return self.do(actions.undo(self.state, self.entries))

    def to_plates(self, covering: str = "slates") -> "Desk":
        """The job begun and the covering chosen: the plates are next."""
        self.answer("job.start.drawings", {"value": "A-101"}).answer("job.start.moisture", {"value": "17"})
        self.sign("job.start").answer("main.finish.covering", {"value": covering})
        return self.sign("main.finish")

    def to_hips(self, covering: str = "slates", sides: Mapping[str, str] = SIDES) -> "Desk":
        """The plates measured and signed: the hips are next."""
        self.to_plates(covering).answer("main.plates.sides", sides)
        if self.check("main.plates.sides").state != "done":
            self.do(actions.release(self.state, "main.plates.sides", "agreed with the engineer"))
        self.answer("main.plates.straps", {"value": "1850"}).answer("main.plates.span", {"left": "6001"})
        return self.answer("main.plates.treated").sign("main.plates")


def going_on(question: Question) -> str:
    """An answer to a caution that lets the work go on."""
    if question.kind == "choice":
        return next(one for one in question.choices if one not in question.stop_on)
    return " ".join("5" for _ in question.gauges) or "J. Hale at the north corner"


def clearing(state: State, library: Library, path: str) -> list[Draft]:
    """The cautions read that the signature of a stage waits for."""
    stage = state.stage(path)
    last = stage is not None and stage.stage.place == "last"
    waiting = awaited(state) if last else unread((stage,) if stage else (), state)
    return [
        actions.read_caution(state, library, one.caution.id, going_on(one.caution.question), at=one.path)
        for one in waiting
        if one.caution.stops
    ]


def anew(state: State, library: Library, path: str, texts: Mapping[str, str], *, done: str = "", **more: Any) -> Draft:
    """An answer, with a reason where it corrects one and none is given."""
    try:
        draft = actions.answer(state, library, path, texts, **more)
    except ReasonWanted:
        draft = actions.answer(state, library, path, texts, **more | {"note": "misread the tape"})
    return actions.done_at(draft, done)
