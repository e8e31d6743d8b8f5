"""What a new job asks for, and what is wrong with an answer: title, file, units, parts and their design figures.

Answers are kept by these keys, whoever asks: the five of the head, and of each part by its number `1.form`, `1.id`,
`1.title` and `1.` with the name of a design figure.
"""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from sitelog.checklist.schema.model import FactSpec, Library
from sitelog.checklist.schema.usual import of_fact
from sitelog.job.actions.sealing import sealed
from sitelog.job.actions.setup import ID, JobSetup, Part, design_value, is_building, start
from sitelog.job.job import Job, seen
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import Memory
from sitelog.job.state.views import State
from sitelog.job.yard import longest_sold
from sitelog.quantities.quantity import ACCEPTS, Units, show
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

LONGEST_STICK = "longest_stick"  # the fact of the longest timber that the yard sells
NEW = "new-job"  # what the answers are kept under until the job is made
MORE = "more"
EXAMPLE = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
UNITS: tuple[Units, ...] = ("metric", "imperial")
HINTS = {
    "title": "Job name, for example: Long Lane, plot 3.",
    "place": "Address. You can leave it blank.",
    "by": "It goes on every entry you make.",
    "units": "metric or imperial: how lengths are shown. You can type either.",
    "file": "File name for the job, saved in this folder.",
    "form": "Roof type: {forms}.",
    "called": "Its name on the pages, for example: Main roof.",
    "id": "Short name: small letters, numbers and hyphens, for example main-roof. Blank leaves it out.",
    MORE: "Another part? {forms}. Leave blank and press Enter to set up the job.",
}


def asked(library: Library, form: str) -> Sequence[FactSpec]:
    """The design figures that are asked of a part of that form; none of a form that is not known."""
    if form not in library.forms():
        return []
    return [spec for spec in library.lists[form].facts if spec.asked]


def hint(key: str, forms: Sequence[str]) -> str:
    """What belongs in the field of that key."""
    number, _, name = key.rpartition(".")
    return HINTS.get("called" if number and name == "title" else name, "").format(forms=", ".join(forms))


def usual_names(number: int, form: str) -> tuple[str, str]:
    """The short name and the name of a part of that form, until somebody names it otherwise."""
    if number == 1:
        return "main", "Main roof"
    return f"{form}-{number}", f"{form.replace('-', ' ').capitalize()} {number}"


def renamed(texts: Mapping[str, str], number: str, before: str, form: str) -> dict[str, str]:
    """Its names once a part has another form than before, as far as nobody named it."""
    names = (usual_names(int(number), of) for of in (before, form))
    both = {f"{number}.{name}": (was, is_now) for name, was, is_now in zip(("id", "title"), *names, strict=True)}
    return {key: is_now for key, (was, is_now) in both.items() if texts.get(key) == was}


def form_meant(text: str, forms: Sequence[str]) -> str:
    """The form that this text begins, where it is the only one; else the text."""
    begun = [form for form in forms if text and form.startswith(text.lower())]
    return begun[0] if len(begun) == 1 else text


def usual_text(spec: FactSpec, folder: Path) -> str:
    """What stands for a design figure till another is typed: for the longest stick that of the folder's yard file."""
    if spec.name == LONGEST_STICK and (longest := longest_sold(folder)):
        return as_typed(longest)
    return spec.default


def with_yard(parts: Sequence[Part], library: Library, folder: Path) -> list[Part]:
    """The parts with the yard's longest stick, where that is asked and nobody gave it."""
    return [
        (short, title, form, _of_yard(asked(library, form), folder) | dict(figures))
        for short, title, form, figures in parts
    ]


def _of_yard(specs: Sequence[FactSpec], folder: Path) -> dict[str, str]:
    found = {spec.name: (usual_text(spec, folder), spec.default) for spec in specs if spec.name == LONGEST_STICK}
    return {name: text for name, (text, usual) in found.items() if text != usual}


def make(texts: Mapping[str, str], folder: Path, library: Library, author: Author, memory: Memory | None = None) -> Job:
    """The job that the answers make, with its file in the folder. Refusal as from `Job.create`."""
    return Job.create(folder / with_ending(texts["file"].strip()), library, author, _setup(texts, library), memory)


def drawn_state(texts: Mapping[str, str], library: Library, author: Author) -> State:
    """How the job would stand, as drawn, with no file made. Refusal as from `start`."""
    return seen(library, sealed(start(library, _setup(texts, library)), author, []))


def shallow_ridge(state: State) -> str:
    """Which ridge is drawn less deep than the rafter's plumb cut, and what to do; "" where none is."""
    for part in state.parts:
        drawn, cut = (_length(state, f"{part.id}.{name}") for name in ("ridge_board", "ridge_depth"))
        if drawn and cut and drawn < cut:
            depth, whole = (show("mm", length, state.units) for length in (drawn, cut))
            return f"{part.title}: the ridge is {depth} deep, the rafter's plumb cut {whole}. Ask whoever drew it."
    return ""


def _length(state: State, name: str) -> float | None:
    now = state.facts[name].now if name in state.facts else None
    return now if isinstance(now, float) else None


def _setup(texts: Mapping[str, str], library: Library) -> JobSetup:
    return JobSetup(
        title=texts["title"],
        place=texts["place"],
        units=units_of(texts["units"]) or "metric",
        parts=_parts(texts, library),
    )


def _parts(texts: Mapping[str, str], library: Library) -> list[Part]:
    """The parts that the answers make; one without a short name is left out."""
    return [
        (short, texts[f"{number}.title"], form, _figures(texts, number, form, library))
        for number, form in forms_in(texts)
        if (short := texts[f"{number}.id"].strip())
    ]


def forms_in(texts: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """The number and the form of each part, in order."""
    for key, form in texts.items():
        number, _, name = key.partition(".")
        if name == "form":
            yield number, form.strip()


def _figures(texts: Mapping[str, str], number: str, form: str, library: Library) -> dict[str, str]:
    """The design figures that somebody gave: what stands as the list has it is the usual one, and nobody's."""
    given = {spec.name: (texts.get(f"{number}.{spec.name}", "").strip(), spec) for spec in asked(library, form)}
    return {name: text for name, (text, spec) in given.items() if text not in ("", spec.default)}


def units_of(text: str) -> Units | None:
    """The units of which that is the beginning, or None."""
    typed = text.strip().lower()
    return next((units for units in UNITS if typed and units.startswith(typed)), None)


def takes(spec: FactSpec) -> str:
    """What may be typed for a design figure."""
    if is_building(spec):
        return f"press Enter to build it, or type it, such as {EXAMPLE}"
    if spec.choices:
        return f"one of {', '.join(spec.choices)}"
    return ACCEPTS[spec.kind]


def head_fault(key: str, text: str, folder: Path) -> str:
    """What is wrong with one of the answers about the job as a whole, in one line; "" if nothing is."""
    if key in ("title", "by") and not text:
        return f"{'Title' if key == 'title' else 'Your name'}: type something here."
    if key == "units" and units_of(text) is None:
        return f"Units are '{text}': type metric or imperial."
    if key != "file":
        return ""
    return _file_fault(text, folder)


def _file_fault(text: str, folder: Path) -> str:
    if not text:
        return "Type a file name, such as kiln-lane.json."
    if Path(text).name != text or text.startswith("."):
        return f"File is '{text}': type a name only, no folders. It is saved in {folder}."
    if (folder / with_ending(text)).exists():
        return f"File is '{text}': that file already exists. Choose another name."
    return ""


def form_fault(text: str, library: Library) -> str:
    """What is wrong with the type of a part, in one line; "" if nothing is."""
    forms = library.forms()
    if text in forms:
        return ""
    return f"Form is '{text}': choose one of {', '.join(forms)}."


def id_fault(text: str) -> str:
    """The same of its short name; an empty one leaves the part out."""
    if text and (not ID.fullmatch(text) or text == "job"):
        return f"Short name is '{text}': use small letters, numbers and hyphens, for example main-roof."
    return ""


def figure_fault(spec: FactSpec, text: str) -> Refusal | None:
    """The same of a design figure, as it is refused or asked about; an empty one is as the list has it, or open."""
    try:
        if text:
            usual = None if text == spec.default else of_fact(spec)
            design_value(spec.kind, spec.choices, text, spec.says, usual, fact=spec.name)
    except Refusal as refusal:
        return refusal
    return None


def with_ending(name: str) -> str:
    """The name of a job's file, with its ending."""
    if name.endswith(".json"):
        return name
    return f"{name}.json"


def file_name(title: str, folder: Path) -> str:
    """A file's name after a title: plain small letters and hyphens, and a number where the name is taken."""
    letters = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    stem = re.sub("[^a-z0-9]+", "-", letters).strip("-")[:40].rstrip("-")
    if not stem:
        return ""
    names = (stem, *(f"{stem}-{number}" for number in range(2, 1000)))
    return next(f"{name}.json" for name in names if not (folder / f"{name}.json").exists())
