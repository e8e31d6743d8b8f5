"""Somebody at the keyboard who types what a person would, key by key, and goes by what is on the screen."""

from itertools import takewhile
from pathlib import Path
from unittest.mock import patch

from textual.pilot import Pilot
from textual.widgets import Input

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Check
from sitelog.job.facts.feeding import may_stay_blank
from sitelog.job.job import Job
from sitelog.job.state.views import FigureView, State
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import READ_ON, CautionPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.handover import HandoverPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.wording.prompts.asking import TOOL, ways_on
from tests.day.house import House
from tests.day.keys import Spent
from tests.job.pictures import jpeg
from tests.tui.seen import text, until, until_shown
from tests.tui.site import DEVICE, Watch
from tests.tui.walker import Walker, drawn, keys

PATIENCE = 1000  # looks at the screen before a step counts as lost
OFF = (1, -1, 0)  # what the tape reads beside what was worked out, in turn
SIX = "main.plates.sides"  # the six figures of the plates


def alike(one: str, other: str) -> int:
    """How many letters both begin with."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def by_arrows(stands: str, wanted: str) -> list[str]:
    """The keys that change what stands in a field from its end, where they are fewer than typing it all."""
    same = alike(stands, wanted)
    tail = alike(stands[same:][::-1], wanted[same:][::-1])
    out, put = stands[same : len(stands) - tail], wanted[same : len(wanted) - tail]
    edits = ["right", *["left"] * tail, *["backspace"] * len(out), *keys(put)]
    return edits if stands and len(edits) < len(wanted) else []


async def a_day(folder: Path, house: House, size: tuple[int, int] = (80, 24)) -> "Person":
    """That house done by one person, in an empty folder with one picture in it."""
    (folder / "IMG_0418.JPG").write_bytes(jpeg())
    app = SitelogApp(folder=folder, clock=Watch(2.0), device=DEVICE)
    # No finger is as quick as these keys: the program would take the second of two for one that is held down.
    with patch("sitelog.tui.app.HELD_SECONDS", 0.0):
        return await _worked(app, house, size)


async def _worked(app: SitelogApp, house: House, size: tuple[int, int]) -> "Person":
    async with app.run_test(size=size) as pilot:
        person = Person(app, pilot, house)
        await person.work()
        person.state, person.job = app.state, app.job
    return person


class Person(Walker):
    """Does the next thing that the screen shows; `spent` is what it has cost so far, `six` what the six figures did."""

    def __init__(self, app: SitelogApp, pilot: Pilot[int], house: House) -> None:
        super().__init__(app, pilot)
        self.house = house
        self.spent = Spent()
        self.six = Spent()
        self.state: State | None = None  # as the day has left it, and the job, once all is done
        self.job: Job | None = None
        self.where = "first page"
        self.read_off = 0
        self.seen: CautionPage | None = None  # the page of cautions that was last in hand
        self.wrong = dict(house.wrong)
        self.left = {"note", "undo"}  # what is still to be done by the way

    # -- keys --

    def _count(self, keys: int, letters: int = 0, *, thought: bool = False) -> None:
        for spent in (self.spent, self.six) if self.where == SIX else (self.spent,):
            spent.keys[self.where] += keys
            spent.letters += letters
            spent.thoughts += thought

    async def press(self, *names: str) -> None:
        """Keys that only go on from what was just done."""
        self._count(len(names))
        await super().press(*names)

    async def command(self, *names: str) -> None:
        """A key that somebody thinks of first."""
        self._count(len(names), thought=True)
        await super().press(*names)

    async def type(self, text: str, *after: str) -> None:
        """Words or a figure, thought of first, and the key that ends them."""
        self._count(len(text) + len(after), len(text), thought=True)
        await super().type(text, *after)

    async def put(self, text: str, end: str = "enter") -> None:
        """Into the field under the cursor, and on; what it begins with is typed over, or left where that is it."""
        field = self.app.focused
        assert isinstance(field, Input), (self.where, field)
        if field.value == text:
            await self.press(end)
        elif not text:
            await self.command("backspace", end)
        elif edits := by_arrows(field.value, text):
            await self.command(*edits, end)
        else:
            assert field.selected_text == field.value, f"{self.where}: {field.value!r} isn't typed over"
            await self.type(text, end)

    def reach(self) -> None:
        """The hand comes back to the keys."""
        self.spent.reaches += 1
        self.six.reaches += self.where == SIX

    # -- the day --

    async def work(self) -> None:
        """From the list of jobs to the signed handover, and the pack for the next trade made."""
        await self.pilot.pause()
        await self.command("n")
        await self.walk(lambda: isinstance(self.app.screen, JobPage) and not self.app.state.next, most=400)
        self.where = "the pack"
        await self.command("h")
        await self.pilot.pause()
        assert isinstance(self.app.screen, HandoverPage)
        await self.command("p")
        await until_shown(self.pilot, "Record code")

    # -- pages --

    async def step(self) -> None:
        """Do what the screen asks, and wait until it has been taken."""
        await until(self.pilot, self._settled)
        stood = self._stands()
        await self._do()
        for _ in range(PATIENCE):
            await self.pilot.pause(0.01)
            if self._stands() != stood:
                return
        raise AssertionError(f"{self.where}: nothing happened: {text(self.app)}")

    def _settled(self) -> bool:
        """A page is there to be read, and no other is about to open."""
        page = self.app.screen
        if isinstance(page, JobPage):
            return not page._busy
        return page.is_mounted and self.app.focused is not None

    def _stands(self) -> tuple[object, ...]:
        """What a step changes: the page, where its cursor is, what is entered, the ways on."""
        page, job = self.app.screen, self.app.job
        ways = isinstance(page, CheckPage) and page.is_mounted and page.query("#ways-on").first().display
        return page, self.app.focused, len(job.entries) if job else 0, ways, READ_ON in text(self.app)

    async def _do(self) -> None:
        screen = self.app.screen
        if isinstance(screen, NewJobPage):
            self.where = "new job"
            await self._design(screen)
        elif isinstance(screen, CautionPage):
            self.where = f"caution {screen.caution_id}"
            self.spent.cautions += screen is not self.seen
            self.seen = screen
            await self.caution(self.app.job.library.cautions[screen.caution_id])  # type: ignore[union-attr]
        elif isinstance(screen, AskPage):
            await self._asked(screen)
        elif isinstance(screen, CheckPage) and self._due_note():
            self.where = "a note"
            await self.press("escape")
        elif isinstance(screen, CheckPage):
            await self.check(screen)
        elif isinstance(screen, JobPage):
            await self._job(screen)
        else:
            raise AssertionError(f"lost on {screen}")

    async def _design(self, page: NewJobPage) -> None:
        """What the drawing says; where the fields below stand as they should, on to the next that is blank."""
        field, fields = self.app.focused, page.form.inputs
        assert isinstance(field, Input)
        below = fields[fields.index(field) + 1 :]
        stands = below and below[0].value and (below[0].name or "") not in self.house.design
        text = self.house.design.get(field.name or "", field.value)
        await self.put(text, end="pagedown" if stands else "enter")

    async def _job(self, page: JobPage) -> None:
        """Enter, where the cursor stands on what is next; Space first where it doesn't."""
        state = self.app.state
        if self._due_note():
            self.left.remove("note")
            self.where = "a note"
            await self.press("up")
            assert page.check and page.check.path == f"main.{self.house.noted[0]}", "the row above was just done"
            await self.command("n")
            return
        here = page.check.path if page.check else page.stage_path
        if here != state.next:
            self.where = "to the next"
            await self.press("space")
        self.where = "open a check" if page.check else "open a stage"
        await self.press("enter")

    def _due_note(self) -> bool:
        view = self.app.state.check(f"main.{self.house.noted[0]}")
        return "note" in self.left and view is not None and view.state == "done"

    async def _asked(self, page: AskPage) -> None:
        question = page.questions[0]
        if question.label == "note":
            self.where = "a note"
            await self.put(self.house.noted[1])
        else:
            self.where = f"asked: {question.label}"
            assert question.label == "name" and question.start, question
            await self.command("enter")

    async def caution(self, caution: Caution) -> None:
        question = caution.question
        if READ_ON in text(self.app):
            await self.command("enter")
        elif question.kind == "choice":
            good = [number for number, choice in enumerate(question.choices, 1) if choice not in question.stop_on]
            await self.command(str(good[0]), "enter")
        else:
            await self.put(self.house.cautions[caution.id])

    async def check(self, page: CheckPage) -> None:
        view = page.view
        self.where = view.path
        name = view.path.partition(".")[2]
        if view.check.kind == "choice":
            await self._choose(name)
        elif view.check.kind == "measure":
            await self._read(page, name)
        elif view.check.kind in ("note", "photo", "sign"):
            await self.put(self.house.words[name])
        else:
            await self.command("enter")

    async def _choose(self, name: str) -> None:
        """One choice is misread, and undone: from the list, if the next check or a caution has opened."""
        wrong, number = self.house.misread
        if name == wrong and "undo" in self.left:
            self.left.remove("undo")
            page = self.app.screen
            await self.command(str(number))
            await until(self.pilot, lambda: self.app.screen is not page and self._settled())
            self.where = "an undo"
            if not isinstance(self.app.screen, JobPage):
                await self.press("escape")
                await until(self.pilot, lambda: isinstance(self.app.screen, JobPage))
            await self.command("u")
        else:
            await self.command(str(self.house.chosen.get(name, 1)))

    async def _read(self, page: CheckPage, name: str) -> None:
        """Each field that Enter stops at. What was out is put right and measured again."""
        read = {**self.house.read.get(name, {}), **self.wrong.pop(name, {})}
        if page.query_one("#ways-on").display:
            await self.command(str(list(ways_on(page.view)).index("measure") + 1))
            await self.pilot.pause()
        self.reach()
        fields = len(page.query(Input))
        for _ in range(fields):
            field = self.app.focused
            if self.app.screen is not page or not isinstance(field, Input):
                break  # entered, or out: the ways on stand there
            if field.name == TOOL:
                await self.press("enter")
            else:
                seen = next(one for one in page.would_be().figures if one.key == field.name)
                await self.put(read.get(seen.key, self._usual(page.view.check, seen)))
            await self.pilot.pause()

    def _usual(self, check: Check, figure: FigureView) -> str:
        """Blank where that will do; what is printed as it is printed; else what the tape reads."""
        asked = check.figure(figure.key)
        if may_stay_blank(check, figure.key):
            return ""
        return drawn(figure) if asked and asked.exact else self._near(figure)

    def _near(self, figure: FigureView) -> str:
        """What tape or level reads: near what was worked out, and never as fine."""
        if figure.kind in ("length", "offset") and isinstance(figure.drawn, float):
            self.read_off += 1
            return f"{figure.drawn + OFF[self.read_off % len(OFF)]:.0f}"
        if figure.kind in ("pitch", "angle") and isinstance(figure.drawn, float):
            return f"{figure.drawn + 0.1:.1f}"
        return drawn(figure)
