"""Somebody who listens and answers: says the next line of what they came to say, and reads each caution that comes."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from pathlib import Path

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Library
from sitelog.job.actions.preview import preview
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import Memory
from sitelog.job.session import Session
from sitelog.job.state.views import CheckView, State
from sitelog.lines.caution import OR_BACK
from sitelog.lines.session import LineSession
from sitelog.lines.talk import Talk
from sitelog.lines.walk import Walk
from sitelog.wording.prompts.asking import ways_on
from sitelog.wording.prompts.correcting import WHY_CHANGED
from sitelog.wording.prompts.tools import wants_tool
from tests.tui.sample import SITE_CHOSEN, SITE_READ
from tests.tui.walker import BY_KIND, drawn

DEVICE = "testbed1"
WIDE = 2_000  # so that each thing said is one line
DRAWN = "as drawn"
ROW = "the row that says"
WORDS_SAID = {"note": "seen, A1", "photo": "seen, A1", "sign": "K. Moss"}
MOST_HEARD = 100_000  # lines; a walk of the whole sample hears far fewer


class ScriptedInput:
    """`says` are the lines to say in turn; after the last comes the end of input, or what `more` still has to say."""

    def __init__(self, says: Iterable[str] = (), more: "Callable[[LineSession], Iterable[str]] | None" = None) -> None:
        self.says: list[str] = list(says)
        self.heard: list[str] = []
        self.more = more
        self.session: LineSession | None = None

    def read_line(self) -> str:
        asked = self._asked()
        if OR_BACK in asked:
            return answer_to(self._caution())
        if not self.says and self.more and WHY_CHANGED in asked:
            return "1"  # the first reason offered
        if not self.says and self.more and self.session:
            self.says = list(self.more(self.session))
        if not self.says:
            raise EOFError
        return self._said(self.says.pop(0))

    def _said(self, line: str) -> str:
        """The line; or what is drawn once the figures before it are in; or the number of the row with these words."""
        if line.startswith(ROW):
            words = line.partition(" | ")[2]
            return next(row for row in reversed(self.heard) if row[:1].isdigit() and words in row).partition(" ")[0]
        if not line.startswith(DRAWN):
            return line
        assert self.session
        _, path, key = line.split(" | ")
        view = self.session.state.check(path)
        assert view
        view, _ = preview(self.session.state, self.session.job.library, view, self.session.drafts.typed(path))
        figure = next(one for one in view.figures if one.key == key)
        return drawn(figure) or BY_KIND[figure.kind]

    def write_line(self, line: str) -> None:
        assert all(letter >= " " and not "\x7f" <= letter <= "\x9f" for letter in line), repr(line)
        self.heard.append(line)
        assert len(self.heard) < MOST_HEARD, "the same questions again and again"

    def _asked(self) -> str:
        return self.heard[-1] if self.heard else ""

    def _caution(self) -> Caution:
        assert self.session
        told = "\n".join(self.heard)
        known = self.session.job.library.cautions.values()
        return max(known, key=lambda one: told.rfind(f"Caution: {one.title}."))

    @property
    def text(self) -> str:
        """All that was heard, as words with single spaces."""
        return " ".join(" ".join(self.heard).split())


def answer_to(caution: Caution) -> str:
    question = caution.question
    if question.kind == "choice":
        return str(next(n for n, one in enumerate(question.choices, 1) if one not in question.stop_on))
    return " ".join("5" for _ in question.gauges) or "the hut"


def walked(
    file: Path,
    library: Library,
    listener: ScriptedInput,
    clock: Callable[[], datetime],
    *,
    by: str = "M. Reed",
    width: int = 400,
    memory: Memory | None = None,
) -> int:
    """Open the job, listen and answer until there is nothing more to say; the exit code."""
    author = Author(by=by, device=DEVICE, now=clock())
    talk = Talk(listener.read_line, listener.write_line, width=WIDE)
    session = Session.open(file, library, author, memory)
    listener.session = LineSession(talk, session, by=by, clock=clock, device=DEVICE)
    try:
        return Walk(listener.session).run()
    except EOFError:
        return 0
    finally:
        session.close()


def next_thing(session: LineSession) -> Iterator[str]:
    """What is said to do the next thing of the job; quit when nothing is left."""
    state = session.state
    if not state.next:
        yield "quit"
        return
    yield from ("next", "do")
    yield from answers(state, state.next)


def answers(state: State, path: str) -> Iterator[str]:
    """What a check, or a stage to be signed, is answered with."""
    view = state.check(path)
    if view is None:
        yield "1"
    elif view.check.kind == "choice":
        yield str(SITE_CHOSEN.get(path.partition(".")[2], 1))
    elif view.check.kind == "measure":
        if view.state in ("out", "unsure"):
            yield str(list(ways_on(view)).index("measure") + 1)
        yield from figures(view, SITE_READ.get(path, SITE_READ.get(path.partition(".")[2], {})))
    else:
        yield WORDS_SAID.get(view.check.kind, "1")
        if view.check.kind == "photo":
            yield ""  # time and place are left out of it


def figures(view: CheckView, read: Mapping[str, str], tool: str = "-") -> Iterator[str]:
    """The figures as read; where none was, the tape says what is drawn. Then that they are to be entered."""
    for figure in view.figures:
        yield read.get(figure.key) or f"{DRAWN} | {view.path} | {figure.key}"
    if wants_tool(view):
        yield tool
    yield "1"
