"""Somebody at the keyboard: reads the screen that is up and types what it asks for, and does nothing else.

The figures are invented; where a figure is drawn, what is drawn is typed.
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path

from textual.events import Paste
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.widgets import Input

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.state.views import FigureView, State
from sitelog.job.storage.verify import verify
from sitelog.quantities.quantity import show_fall
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import READ_ON, CautionPage
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.wording.prompts.asking import TOOL, ways_on
from tests.tui.seen import text, until

# What the tape, the level and the counting give, where the drawing says nothing; by stage.check and figure. What is
# known of one part alone goes before, by part.stage.check.
READ = {
    "before.scaffold": {"rail": "1000", "gap": "440"},
    "before.moisture": {"value": "17"},
    "finish.headlap": {"value": "80"},
    "plates.levels": {"readings": "1402,1403,1401,1402,1404,1403,1402,1402"},
    "plates.straps": {"spacing": "1800", "fixing": "120"},
    "plates.laps": {"value": "5"},
    "first-pair.sizes": {"rafter": "47", "hip": "47"},
    "first-pair.ridge-depth": {"depth": "190"},
    "first-pair.twist": {"fall_foot": "1", "fall_head": "1"},
    "ridge.ridge-line": {"offsets": "0,1,1,1,0"},
    "ridge.plane": {"value": "2"},
    "jacks.cover": {"value": "12"},
    "jacks.plane": {"a": "1", "b": "1", "c": "1", "d": "1"},
    "restraint.straps": {"spacing": "1800", "crossed": "3", "turned": "120"},
    "eaves.height-double": {"tile": "6", "hang": "470"},
    "eaves.height-single": {"tile": "20", "hang": "380"},
    "eaves.gaps": {"gap": "25", "high": "5", "path": "55"},
    "handover.stacked": {"value": "6"},
}
BY_KIND = {"offset": "0", "offsets": "0,1,1,0", "count": "0", "number": "0", "length": "0", "angle": "0"}
BY_KIND["text"] = "K. Moss, who lays it"
CHOSEN = {"openings.any": 1, "finish.covering": 2}  # the number of the choice; the first where none is named


def keys(text: str) -> list[str]:
    """The keys that type this."""
    return [_character_to_key(character) for character in text]


class Walker:
    """One person at one keyboard."""

    def __init__(
        self,
        app: SitelogApp,
        pilot: Pilot[int],
        read: Mapping[str, Mapping[str, str]] = READ,
        chosen: Mapping[str, int] = CHOSEN,
    ) -> None:
        self.app = app
        self.pilot = pilot
        self.read = read
        self.chosen = chosen

    async def press(self, *names: str) -> None:
        await self.pilot.press(*names)

    async def type(self, text: str, *after: str) -> None:
        """Its last letter by key; what is before it in a burst, as a terminal hands on a paste."""
        if len(text) > 2 and isinstance(self.app.focused, Input):
            self.app.screen.post_message(Paste(text[:-1]))
            text = text[-1]
        await self.pilot.press(*keys(text), *after)

    async def walk(self, done: Callable[[], bool], *, most: int = 600) -> None:
        """Do the next thing, again and again, until it is done."""
        for _ in range(most):
            await self.pilot.pause()
            if done():
                return
            await self.step()
        raise AssertionError(f"still at {self.app.screen} and {self.app.state.next}: {text(self.app)}")

    async def step(self) -> None:
        screen = self.app.screen
        if isinstance(screen, RecapPage):
            await self.press("1")
        elif isinstance(screen, CautionPage):
            await self.caution(self.app.job.library.cautions[screen.caution_id])  # type: ignore[union-attr]
        elif isinstance(screen, AskPage):
            await self.type("1" if screen.questions[0].label == "reason" else "", "enter")
        elif isinstance(screen, CheckPage):
            await self.check(screen)
        elif isinstance(screen, JobPage):
            await self.press("space", "enter")
        else:
            raise AssertionError(f"lost on {screen}")

    async def set_up(self, design: Mapping[str, str]) -> None:
        """A new job from the list of jobs: what the design says by the name of the field, else what stands in it."""
        await self.pilot.pause()
        await self.press("n")
        await self.pilot.pause()
        while isinstance(self.app.screen, NewJobPage):
            await until(self.pilot, self._field_or_job)  # a form is laid out anew for another roof
            field = self.app.focused
            if not isinstance(field, Input):
                return
            if field.name in design:
                field.value = ""
            await self.type(design.get(field.name or "", ""), "enter")
            await self.pilot.pause()

    def _field_or_job(self) -> bool:
        return isinstance(self.app.focused, Input) or not isinstance(self.app.screen, NewJobPage)

    async def caution(self, caution: Caution) -> None:
        if caution.question.kind == "choice":
            number = caution.question.choices.index(let_on(caution)) + 1
            await self.press(str(number), "enter")
        else:
            await self.type(let_on(caution), "enter")
        await self.pilot.pause()
        while READ_ON in text(self.app):
            await self.press("enter")
            await self.pilot.pause()

    async def check(self, page: CheckPage) -> None:
        view = page.view
        name = view.path.partition(".")[2]
        if view.check.kind == "choice":
            await self.press(str(self.chosen.get(name, 1)), *(["enter"] if view.check.photo else []))
        elif view.check.kind == "measure":
            await self.measure(page, self.read.get(view.path) or self.read.get(name, {}))
        elif view.check.kind in ("note", "photo", "sign"):
            await self.type("K. Moss" if view.check.kind == "sign" else "seen, A1", "enter")
        else:
            await self.press("enter")

    async def measure(self, page: CheckPage, read: Mapping[str, str]) -> None:
        """Each field in turn, as its drawn figure stands once those before it are in. What was out is put right."""
        if page.query_one("#ways-on").display:
            await self.press(str(list(ways_on(page.view)).index("measure") + 1))
        for figure in page.view.check.figures:
            seen = next(f for f in page.would_be().figures if f.key == figure.key)
            field = next((f for f in page.query(Input) if f.name == figure.key), None)
            if field is None:
                continue  # not asked as things stand
            field.value = ""
            await self.type(read.get(figure.key) or drawn(seen) or BY_KIND[figure.kind])
            await self.press("enter")
        if self.app.screen is page and isinstance(self.app.focused, Input) and self.app.focused.name == TOOL:
            await self.press("enter")


def let_on(caution: Caution) -> str:
    """An answer to its question that lets the work go on."""
    question = caution.question
    if question.kind == "choice":
        return next(choice for choice in question.choices if choice not in question.stop_on)
    return " ".join("5" for _ in question.gauges) if question.gauges else "the hut"


def drawn(figure: FigureView) -> str:
    """The drawn figure as a tape would read it."""
    if figure.kind == "fall" and isinstance(figure.drawn, float):
        return show_fall(figure.drawn)
    if not isinstance(figure.drawn, (int, float)):
        return ""
    return f"{figure.drawn:.0f}" if figure.kind == "count" else f"{figure.drawn:.1f}"


async def alone(
    folder: Path,
    clock: Callable[[], datetime],
    design: Mapping[str, str],
    read: Mapping[str, Mapping[str, str]],
    chosen: Mapping[str, int],
) -> State:
    """A job of that design set up in an empty folder and walked by keyboard to its signed handover; how it stands then.

    Nothing was snagged or let go on the way, and the file is sound.
    """
    app = SitelogApp(folder=folder, clock=clock, device="walker01")
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot, read, chosen)
        await walker.set_up(design)
        await walker.walk(lambda: isinstance(app.screen, JobPage) and not app.state.next, most=900)
        state = app.state
    assert state.handed_over
    assert (state.snags, state.releases) == ((), ())
    (file,) = folder.glob("*.json")
    assert verify(file) == []
    return state
