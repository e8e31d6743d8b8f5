"""`sitelog new`: a job set up from flags."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec import Struct

from sitelog.cli.keep.job_file import Options, author, lists_for, next_line, watched
from sitelog.cli.script.tell import tell
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.machine.memory import machines_own
from sitelog.refusal import DONE, Refusal
from sitelog.text import counted, text_if
from sitelog.wording.prompts.setting_up import shallow_ridge, with_yard

Part = tuple[str, str, str, dict[str, str]]  # short name, title, form, figures as typed


def new(options: Options) -> int:
    """Make the job that the flags tell; without a file, on the screen. Refusal for what can't be a part or a figure."""
    if not options.file:
        from sitelog.cli.screen import new_job

        return new_job(options)
    file = Path(options.file)
    parts = _parts(options.part, options.figures)
    if not options.title.strip():
        raise Refusal('Add a title: --title "Kiln Lane, plot 3"')
    library = lists_for(file, options.checklists)()
    whole = with_yard(parts, library, file.parent)
    setup = JobSetup(title=options.title, place=options.place, units=options.units, parts=whole)
    with Job.create(file, library, author(options), setup, machines_own()) as job:
        watched(options, job, 0)
        state = job.state

    def data(lines: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Started

        return Started(
            said=lines, file=str(file), title=state.title, entries=state.entries, head=state.head, next=state.next
        )

    head = f"{file}: {state.title}, {counted(len(parts), 'part')}"
    tell(options, [head, *filter(None, [shallow_ridge(state)]), next_line(state)], data)
    return DONE


def _parts(given: Sequence[str], figures: Sequence[str]) -> list[Part]:
    """`main:hipped:Main roof` and `main.length=9000` as (id, title, form, {fact: text})."""
    parts: dict[str, Part] = {}
    for text in given:
        part = _part(text)
        if part[0] in parts:
            raise Refusal(f"--part {part[0]} is there twice; give it once")
        parts[part[0]] = part
    if not parts:
        raise Refusal("Add at least one part: --part main:hipped")
    for figure in figures:
        _put(figure, parts)
    return list(parts.values())


def _part(text: str) -> Part:
    part_id, _, rest = text.partition(":")
    form, _, title = rest.partition(":")
    if not part_id or not form:
        raise Refusal(f"--part {text!r} must be a short name and a roof type, such as main:hipped")
    return part_id, title or part_id, form, {}


def _put(figure: str, parts: Mapping[str, Part]) -> None:
    """Put a figure with its part."""
    name, equals, value = figure.partition("=")
    part_id, dot, fact = name.partition(".")
    if not equals or not dot:
        of_several = text_if(
            not equals + dot, ". Put one of several words in quotes: 'main.building=main 9000x6000 40'"
        )
        raise Refusal(f"{figure!r} must be part, name and figure, such as main.length=9000{of_several}")
    if part_id not in parts:
        raise Refusal(f"{figure!r} isn't for any part of this job. Parts are {', '.join(parts)}")
    facts = parts[part_id][3]
    if fact in facts:
        raise Refusal(f"{name} is there twice; give it once")
    facts[fact] = value
