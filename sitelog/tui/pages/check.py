"""One check, done: what is typed is entered, and where it is out there are three ways on."""

import asyncio
from collections.abc import Sequence
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.actions.answers import figure_value
from sitelog.job.log.entry import Draft
from sitelog.job.photos.choosing import offered
from sitelog.job.photos.photo import Photo
from sitelog.job.state.views import CheckView, State
from sitelog.refusal import Refusal
from sitelog.tui.dialogs import attach, meant, prompted
from sitelog.tui.dialogs.tools import known_tool
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.check_fields import PHOTO, WHOLE, takes_photo
from sitelog.tui.widgets.check_form import CheckForm
from sitelog.wording.entries import last_act
from sitelog.wording.prompts import attaching
from sitelog.wording.prompts.asking import (
    TOOL,
    Way,
    as_read,
    measured_again,
    offers_ways,
    stands_out,
    way_line,
    way_snag,
    ways_on,
    ways_title,
)  # fmt: skip
from sitelog.wording.prompts.correcting import reason_form
from sitelog.wording.prompts.remedies import ways_lines
from sitelog.wording.result import columned_at, result_lines, verdict_lines


class CheckPage(CheckForm):
    """Gives True when an answer was entered. What is typed and not entered is kept for the next time."""

    PLACE = "check"
    AUTO_FOCUS = "#choices, #form Input"  # not the form around them first, which would be styled twice
    BINDINGS: ClassVar[list[BindingType]] = bindings("check")

    def __init__(self, path: str, *, again: bool = False, said: str = "") -> None:
        """`said` is told until the cursor moves on: how the check stands that this one follows."""
        super().__init__(path)
        self._said = said
        self.again = again
        self.entered = False
        self._copying = False
        self._reason = self._put_right = ""

    def body(self) -> ComposeResult:
        """The form, and beneath it the ways on when the check is out."""
        yield from super().body()
        # Under the form and not in it: all three ways are on the screen, however much there is to tell.
        with Vertical(id="ways-on"):
            yield Static("", id="ways-line", markup=False)
            yield OptionList(id="ways", markup=False)

    def on_mount(self) -> None:
        """What was typed before stands in the fields; the cursor in the first that is to be filled."""
        self.show_title()
        self.query_one("#ways-on").display = False
        self.query_one("#work").display = False
        if takes_photo(self.view) and self.site.job:
            self.offers = offered(self.site.job.file.path.parent)
            self.put("#whole-words", [attaching.LEFT_OUT])
        self.show_answer()
        for choices in self.query("#choices").results(OptionList):
            choices.highlighted = next(
                (number for number, choice in enumerate(self.view.check.choices) if choice.id == self.view.value), None
            )
        fields = [*self.query("#choices"), *self.query(Input)]
        (fields[0] if fields else self.query_one("#form")).focus()
        self.call_after_refresh(self._tell_said)
        if offers_ways(self.view, again=self.again):
            self._offer_ways(self.view)

    def _tell_said(self) -> None:
        """Once the cursor has come to its first place."""
        if not self._said:
            return
        self.stays_told, self.told_at = self._said, self.focused
        self.show_answer()
        if self.view.check.kind != "measure":
            self.say(self._said)

    def _draft(self, photos: Sequence[Photo] = (), name: str = "") -> Draft:
        texts = self.texts() | {PHOTO: name}
        texts.pop(WHOLE, None)
        instrument = texts.pop(TOOL, "").strip()
        if self.view.check.kind == "choice":
            at = self.query_one("#choices", OptionList).highlighted
            texts = {PHOTO: name} | ({} if at is None else {"value": self.view.check.choices[at].id})
        given = {key: text for key, text in texts.items() if text.strip()}
        job = self.site.job
        if job is None:
            raise LookupError("no job is open")
        return actions.answer(
            self.site.state, job.library, self.path, given, note=self._reason, instrument=instrument, photos=photos
        )

    # -- entering --

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        slip = self._slip(event.input)
        if slip:
            meant.ask(self, slip, event.input, self.say, lambda: self._next_field(event.input))
        else:
            self._next_field(event.input)

    def _next_field(self, field: Input) -> None:
        fields = list(self.query(Input))
        below = fields[fields.index(field) + 1 :]
        wanted = next((field for field in below if self._stops_at(field)), None)
        if wanted is None:
            self.enter()
        else:
            wanted.focus()

    def _stops_at(self, field: Input) -> bool:
        """Does Enter stop at it? A correction says each time what it was measured with, before the reason is asked."""
        if field.name == TOOL:
            return any(entry.act == "answer" for entry in self.view.history)
        if field.name == WHOLE:
            return False
        return field.has_class("figure") or not field.value.strip()

    @on(OptionList.OptionSelected, "#choices")
    def _picked(self) -> None:
        """Where a photo is asked for too, it comes between the choice and Enter."""
        field = next((field for field in self.query(Input) if field.name == PHOTO and not field.value.strip()), None)
        if field is None:
            self.enter()
        else:
            field.focus()
            self.say("Add a photo, or press Enter for none.")

    def action_accept(self) -> None:
        """Save the form."""
        self.enter()

    @work
    async def enter(self) -> None:
        """Enter what was typed: slips are asked about first, then the tool, then why it changes an answer."""
        for field in self.query(Input):
            if slip := self._slip(field):
                meant.ask(self, slip, field, self.say, self.enter)
                return
        if not self.is_current or self._copying or not await known_tool(self, self.texts().get(TOOL, "")):
            return
        self._reason = self._put_right
        why = await prompted.why_anew(self, self.view, lambda: self._draft(name=self.texts().get(PHOTO, "").strip()))
        self._reason = why or self._put_right
        if why is None:
            return
        if not await self._entered():
            self._stand_on_fault()
            return
        self.entered = True
        self._put_right = ""
        self.site.drafts.drop(self.path)
        self.site.drafts.drop(reason_form(self.path))
        view = self.view
        if stands_out(view):
            self._offer_ways(view)
        else:
            self.dismiss(True)

    def _stand_on_fault(self) -> None:
        """The cursor in the first field that can't be read; what was refused stays told."""
        notice = self.query_one("#notice", Static).content
        told = notice.plain if isinstance(notice, Content) else ""
        for field in self.query(Input):
            if self._is_fault(field):
                self.stays_told, self.told_at = told, field
                field.focus()
                self.show_answer()
                return

    def _is_fault(self, field: Input) -> bool:
        figure, job = self.view.check.figure(field.name or ""), self.site.job
        if figure is None or job is None or (figure.optional and not field.value.strip()):
            return False
        try:
            figure_value(self.site.state, job.library, self.view, figure, field.value)
        except Refusal:
            return True
        return False

    async def _entered(self) -> bool:
        """Photos are copied first, which may take a while: Enter means nothing until they are."""
        texts, job = self.texts(), self.site.job
        if job is None or not texts.get(PHOTO, "").strip():
            return self.site.attempt(self._draft)
        self._copying = True
        try:
            found = attaching.chosen(texts[PHOTO], job.file.path, self.offers)
            return await attach.enter(self, found, attaching.keeps(texts.get(WHOLE, "")), self._draft)
        except Refusal as refusal:
            self.say(refusal.message)
            return False
        finally:
            self._copying = False

    @work
    async def action_ask(self, name: str) -> None:
        """Add a note to the check, answered or not."""
        if await prompted.ask(self, name, self.path):
            self.say(last_act(self.site.state))

    # -- the ways on --

    def on_resize(self) -> None:
        """Lay the answer, or what each way moves, out for the new width."""
        super().on_resize()
        if self.query_one("#ways-on").display and self.site.job:
            self._tell_ways(self.view, self.site.state, self.site.job.library)

    def show_answer(self) -> None:
        """Work what is typed; not beneath the ways on, which tell the answer that was saved."""
        if not self.query_one("#ways-on").display:
            super().show_answer()

    def _offer_ways(self, view: CheckView) -> None:
        self.show_answer()
        self.query_one("#fields").display = False
        self.query_one("#ways-on").display = True
        ways = self.query_one("#ways", OptionList)
        ways.set_options(Option(Content(f"{number}  {way}")) for number, way in enumerate(ways_on(view).values(), 1))
        ways.focus()
        self.put("#ways-line", [ways_title(view)])
        self.put("#result", result_lines(view, self.site.state, rows=False, row=columned_at(self.size.width)))
        self.put("#verdict", verdict_lines(view, self.site.state, good=False))
        self.say(way_line(view))
        if self.site.job:
            self._tell_ways(view, self.site.state, self.site.job.library)

    @work(exclusive=True, group="ways")
    async def _tell_ways(self, view: CheckView, state: State, library: Library) -> None:
        """What each way moves, above the verdict, as soon as it is worked: a large roof takes a moment."""
        told = await asyncio.to_thread(ways_lines, view, state, library, self.size.width - 4)
        if self.is_mounted and self.query_one("#ways-on").display:
            self.put("#result", told)

    @on(OptionList.OptionSelected, "#ways")
    def _way(self, event: OptionList.OptionSelected) -> None:
        self.take_way(list(ways_on(self.view))[event.option_index])

    @work
    async def take_way(self, way: Way) -> None:
        """To measure again after a fix is its own reason, and so is a reading that is too close to call."""
        if way == "measure":
            self.query_one("#ways-on").display = False
            self.query_one("#fields").display = True
            self._put_right = measured_again(self.view)
            self.query(Input).first().focus()
            return
        if await self._done(way):
            self.dismiss(True)

    async def _done(self, way: Way) -> bool:
        if way == "accept":
            return self.site.attempt(lambda: actions.release(self.site.state, self.path, as_read(self.view)))
        if way == "snag":
            return await prompted.snag(self, self.path, way_snag(self.view))
        return await prompted.ask(self, "release", self.path)

    def action_back(self) -> None:
        """Leave; what was typed is kept."""
        self.dismiss(self.entered)
