"""A new job line by line: its title, its parts and their figures as drawn. Each answer is kept till the job is made."""

from collections.abc import Callable
from pathlib import Path

from sitelog.checklist.schema.model import FactSpec, Library
from sitelog.job.actions.setup import is_building
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.lines.building import ask_building
from sitelog.lines.talk import Talk, said_before
from sitelog.refusal import Refusal
from sitelog.text import text_between, text_if
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.prompts.setting_up import (
    HINTS,
    NEW,
    asked,
    figure_fault,
    file_name,
    forms_in,
    head_fault,
    id_fault,
    make,
    shallow_ridge,
    takes,
    units_of,
    usual_names,
    usual_text,
)

OPEN = "-"  # said of a figure that is not known after all


def new_job(talk: Talk, folder: Path, library: Library, hand_of: Callable[[str], Author], *, by: str) -> Job:
    """Ask what a new job wants, and make its file in the folder. `hand_of` gives the hand of a name.

    Left on `back`, or at the end of what is said: nothing is made, and the answers so far stand to be taken the next
    time, here or on the screen. A refusal of the whole is said, and all is asked again.
    """
    form = SettingUp(talk, folder, library, by)
    while True:
        talk.say("A new job.")
        form.ask_all()
        if talk.pick("Set the job up?", ["yes", "no, go back over it"]):
            continue
        try:
            return form.make(hand_of)
        except Refusal as refusal:
            talk.refuse(refusal.message)


class SettingUp:
    """The questions of one new job. `texts` are its answers, by the keys of wording/prompts/setting_up.py."""

    def __init__(self, talk: Talk, folder: Path, library: Library, by: str) -> None:
        self.talk, self.folder, self.library, self.by = talk, folder, library, by
        self.drafts = Drafts.of_new_job(folder)
        self.texts = self.drafts.typed(NEW)

    def ask_all(self) -> None:
        """Ask everything in order; the file last, as its name comes from the title."""
        self._head("title", "Title.")
        self._head("place", "Place.")
        if self.by:
            self._keep("by", self.by)
        else:
            self._head("by", "Your name.")
        self._head("units", "Units.", "metric")
        self._parts()
        self._head("file", "File.", file_name(self.texts["title"], self.folder))

    def make(self, hand_of: Callable[[str], Author]) -> Job:
        """The job, with its file in the folder. Refusal as from `Job.create`."""
        job = make(self.texts, self.folder, self.library, hand_of(self.texts["by"]))
        self.talk.say(*filter(None, [shallow_ridge(job.state)]))
        self.drafts.drop(NEW)
        return job

    def _keep(self, key: str, text: str) -> str:
        self.texts[key] = text
        self.drafts.keep(NEW, self.texts, empty=True)
        return text

    # -- the questions --

    def _head(self, key: str, ask: str, usual: str = "") -> None:
        self._asked(key, f"{ask} {HINTS[key]}", lambda text: head_fault(key, text, self.folder), usual)

    def _asked(self, key: str, ask: str, fault_of: Callable[[str], str | Refusal | None], usual: str = "") -> str:
        """An answer without fault. An empty line takes what was said before, or what is usual, where there is any."""
        before = self.texts.get(key, "").strip()
        if fault_of(before):
            before = ""
        stands = before or usual

        def hear(text: str) -> str:
            text = "" if text == OPEN else text or stands
            fault = fault_of(text)
            if fault:
                raise fault if isinstance(fault, Refusal) else Refusal(fault)
            return text

        kept = text_between("Press Enter for ", usual, ".")
        if before:
            kept = said_before(before)
        return self._keep(key, self.talk.ask(f"{ask} {kept}".strip(), hear, (ask,)))

    def _parts(self) -> None:
        """Part after part. One that was there before, and is no part of this roof, is left out of it."""
        before = [number for number, _ in forms_in(self.texts)]
        number = 0
        while True:
            number += 1
            self._part(number)
            more = str(number + 1) in before
            rows = ["yes", "no, add another part"]
            if not self.talk.pick("Is that the whole roof?", rows, before=1 if more else None):
                break
        known = {str(earlier) for earlier in range(1, number + 1)}
        self.texts = {key: text for key, text in self.texts.items() if "." not in key or key.split(".")[0] in known}

    def _part(self, number: int) -> None:
        forms = self.library.forms()
        known = self.texts.get(f"{number}.form", "").strip()
        before = forms.index(known) if known in forms else None
        form = self._keep(f"{number}.form", forms[self.talk.pick(f"Roof type of part {number}.", forms, before=before)])
        short_name, title = usual_names(number, form)
        taken = [self.texts[f"{earlier}.id"] for earlier in range(1, number)]

        def fault(text: str) -> str:
            return id_fault(text) or text_if(text in taken, f"Short name is '{text}': already used by another part.")

        short = "Short name: small letters, digits and hyphens."
        self._asked(f"{number}.id", short, fault, short_name)
        self._asked(f"{number}.title", f"What is it called? {HINTS['called']}", lambda text: "", title)
        for spec in asked(self.library, form):
            self._figure(number, spec)

    def _figure(self, number: int, spec: FactSpec) -> None:
        """A figure off the drawing; one that the list has no usual figure for may be left open."""
        if is_building(spec):
            key = f"{number}.{spec.name}"
            units = units_of(self.texts["units"]) or "metric"
            ask_building(self.talk, spec.says, self.texts.get(key, ""), units, lambda text: self._keep(key, text))
            return
        ask = f"{spec.says}. Type {takes(spec)}."
        if not spec.default:
            known = bool(self.texts.get(f"{number}.{spec.name}"))
            ask += f" {f'Type {OPEN}' if known else 'Press Enter'} to leave it blank until you know it."
        self._asked(f"{number}.{spec.name}", ask, lambda text: figure_fault(spec, text), usual_text(spec, self.folder))
