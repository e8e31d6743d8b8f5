"""The commands that keep a job by script: each opens the file, does one act, and says in one line what was done."""

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path

from sitelog.checklist.proved import proved_library
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import firm_folders, kept_lists
from sitelog.job.actions import actions
from sitelog.job.actions.answers import named_figures
from sitelog.job.cautions.answers import example
from sitelog.job.cautions.due import unread
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.photos.photo import Photo, in_words
from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, State
from sitelog.job.storage.device import device_id
from sitelog.refusal import Refusal
from sitelog.wording.actions.table import ACTIONS
from sitelog.wording.formatting import counted
from sitelog.wording.prompts import prompts

Options = argparse.Namespace


def library_for(job_file: Path, extra: Sequence[str]) -> Library:
    """The shipped checklists, then those beside the job, then those named."""
    return proved_library([*firm_folders(job_file), *(Path(folder) for folder in extra)], kept_lists(job_file))


def author(options: Options) -> Author:
    """Who acts, on what, now. Raises Refusal without a name."""
    if not options.by or not options.by.strip():
        raise Refusal('Add your name: --by "M. Reed"')
    return Author(by=options.by.strip(), device=device_id(), now=datetime.now().astimezone())


def opened(options: Options, *, read_only: bool = False) -> Job:
    file = Path(options.file)
    who = None if read_only else author(options)
    return Job.open(file, lambda: library_for(file, options.checklists), read_only=read_only, author=who)


def _do(options: Options, draft_of: Callable[[Job], Draft | Sequence[Draft]], said: Callable[[State], str]) -> int:
    """Open, make the draft from the job, enter it, and say in one line what was done and in another what is next."""
    who = author(options)
    with opened(options) as job:
        state = job.do(draft_of(job), who)
    if job.file.left_beside:
        print(f"sitelog: {job.file.left_beside}", file=sys.stderr)
    print(said(state))
    _say_next(state)
    return 0


def _say_next(state: State) -> None:
    print(f"next: {state.next}" if state.next else "next: all done")


def new(options: Options) -> int:
    if not options.file:
        from sitelog.cli.screen import new_job

        return new_job(options)
    file = Path(options.file)
    parts = _parts(options.part, options.figures)
    if not options.title.strip():
        raise Refusal('Add a title: --title "Kiln Lane, plot 3"')
    with Job.create(
        file,
        library_for(file, options.checklists),
        author(options),
        title=options.title,
        place=options.place,
        units=options.units,
        parts=parts,
    ) as job:
        print(f"{file}: {job.state.title}, {len(parts)} part{'s' if len(parts) != 1 else ''}")
        _say_next(job.state)
    return 0


def _parts(given: Sequence[str], figures: Sequence[str]) -> list[tuple[str, str, str, dict[str, str]]]:
    """`main:hipped:Main roof` and `main.length=9000` as (id, title, form, {fact: text})."""
    parts: dict[str, tuple[str, str, dict[str, str]]] = {}
    for text in given:
        part_id, colon, rest = text.partition(":")
        form, _, title = rest.partition(":")
        if not colon or not part_id or not form:
            raise Refusal(f"--part {text!r} must be a short name and a roof type, such as main:hipped")
        if part_id in parts:
            raise Refusal(f"--part {part_id} is there twice; give it once")
        parts[part_id] = (title or part_id, form, {})
    if not parts:
        raise Refusal("Add at least one part: --part main:hipped")
    for figure in figures:
        name, equals, value = figure.partition("=")
        part_id, dot, fact = name.partition(".")
        if not equals or not dot:
            raise Refusal(f"{figure!r} isn't a part's figure, such as main.length=9000")
        if part_id not in parts:
            raise Refusal(f"{figure!r} isn't for any part of this job. Parts are {', '.join(parts)}")
        if fact in parts[part_id][2]:
            raise Refusal(f"{name} is there twice; give it once")
        parts[part_id][2][fact] = value
    return [(part_id, title, form, facts) for part_id, (title, form, facts) in parts.items()]


def show(options: Options) -> int:
    from sitelog.job.photos.keeping import album

    with opened(options, read_only=True) as job:
        state = job.state
        photos = album(state, job.file.files)
    if options.json:
        import json

        from sitelog.job.show import to_json

        json.dump(to_json(state, photos), sys.stdout)  # escaped: what a terminal would obey stands in it, too
        print()
        return 0
    from sitelog.cli.page import page

    print("\n".join(page(state, photos)))
    return 0


def asked(options: Options) -> int:
    """A command that answers its action's prompt: the flags that it names are the answers, in order."""
    action = next(one for one in ACTIONS if one.command and one.command.name == options.command)
    command = action.command
    answers = [str(getattr(options, name)) for name in command.answers] if command else []
    return _do(
        options,
        lambda job: prompts.ASKED[action.name](prompts.Here(job.state, options.path, options.by)).make(answers),
        lambda state: command.done.format_map(vars(options)) if command else "",
    )


def record(options: Options) -> int:
    def draft(job: Job) -> Draft:
        view = job.state.check(options.path)
        values = _values(options.path, options.values, view)
        is_photo = view is not None and view.check.kind == "photo"
        text = values.pop("photo", "") or (values.pop("value", "") if is_photo else "")

        def answered(photos: Sequence[Photo], name: str) -> Draft:
            try:
                return actions.answer(
                    job.state,
                    job.library,
                    options.path,
                    values | ({"photo": name} if name else {}),
                    note=options.note,
                    instrument=options.instrument,
                    done=event_time(options.done, datetime.now().astimezone()),
                    photos=photos,
                )
            except ReasonWanted as wanted:
                raise Refusal(f'{wanted.message}: --note "misread the tape"') from None

        if not text:
            return answered((), "")
        from sitelog.job.photos.keeping import choose
        from sitelog.wording.prompts.attaching import with_photos

        return with_photos(job, choose(text, [Path(), job.file.path.parent]), options.whole, answered)

    return _do(options, draft, lambda state: f"{options.path}: {_state_of(state, options.path)}{_photos(state)}")


def _photos(state: State) -> str:
    """What is said of the photos of the entry just made, after what is said of it."""
    words = in_words(state.last.value) if state.last else ""
    return f"; {words}" if words else ""


def event_time(text: str, now: datetime) -> str:
    """When it happened, as a person says it (`07:30` today, or ISO in local time), as the record keeps it.

    Raises Refusal for what is no time.
    """
    if not text.strip():
        return ""
    words = text.strip()
    try:
        moment = datetime.fromisoformat(f"{now.date()}T{words}" if len(words) <= len("07:30:00") else words)
    except ValueError:
        raise Refusal(f"--done {words[:40]!r} isn't a time. Type 07:30, or 2026-11-25T07:30") from None
    return (moment if moment.tzinfo else moment.replace(tzinfo=now.tzinfo)).isoformat(timespec="minutes")


def _state_of(state: State, path: str) -> str:
    view = state.check(path)
    return state_word(view) if view else "entered"


def _values(path: str, words: Sequence[str], view: CheckView | None = None) -> dict[str, str]:
    """One bare value as `value`, or key=value for each of several, which the check at `path`, if known, names."""
    pairs: dict[str, str] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals:
            key, value = "value", word
        if key in pairs and equals:
            raise Refusal(f"{path}: {key} is there twice; give it once")
        if key in pairs:
            bare = [one for one in words if "=" not in one]
            several = named_figures(view, bare) if view and view.check.figures else "Type one answer, in quotes"
            raise Refusal(f"{path}: {several}")
        pairs[key] = value
    return pairs


def draw(options: Options) -> int:
    values = _values(options.part, options.figures)
    return _do(
        options,
        lambda job: actions.draw(job.state, options.part, values),
        lambda state: f"{options.part}: drawing figures changed; {counted(len(state.stale), 'check')} to do again",
    )


def undo(options: Options) -> int:
    return _do(
        options,
        lambda job: actions.undo(job.state, job.entries),
        lambda state: "undone; both stay in the record",
    )


def sign(options: Options) -> int:
    return _do(
        options,
        lambda job: actions.sign(job.state, options.path),
        lambda state: "\n".join([f"{options.path}: signed by {options.by}", *_unread(state, options.path)]),
    )


def _unread(state: State, path: str) -> Iterator[str]:
    """The stage's cautions that nobody has read, in a line."""
    stage = state.stage(path)
    found = unread((stage,), state) if stage else ()
    if found:
        yield f"not read yet: {', '.join(f'{one.caution.id} ({one.caution.title})' for one in found)}"


def _at(state: State) -> str:
    """The stage that the last answer to a caution is for, if it is for one alone."""
    path = state.readings[-1].path
    return f", for {path}" if path else ""


def snag(options: Options) -> int:
    if options.close:
        return _do(
            options,
            lambda job: actions.close_snag(job.state, options.close),
            lambda state: f"snag {options.close}: closed; {len(state.open_snags)} open",
        )
    return _do(
        options,
        lambda job: actions.snag(job.state, options.path, options.text, who=options.who, due=options.due),
        lambda state: f"snag {state.snags[-1].id}: raised; {len(state.open_snags)} open",
    )


def defer(options: Options) -> int:
    return _do(
        options,
        lambda job: actions.defer(job.state, options.path, options.until, options.reason),
        lambda state: f"{options.path}: left till {options.until}",
    )


def read(options: Options) -> int:
    if not options.caution:
        from sitelog.cli.page import cautions

        with opened(options, read_only=True) as job:
            print("\n".join(cautions(job.state)))
        return 0

    def draft(job: Job) -> Draft:
        caution = job.library.cautions.get(options.caution)
        if caution and not options.answer.strip():
            raise Refusal(f"Add the answer: read {options.file} {caution.id} {example(caution.question)}")
        return actions.read_caution(job.state, job.library, options.caution, options.answer, at=options.at)

    return _do(
        options,
        draft,
        lambda state: f"{options.caution}: read by {options.by}{_at(state)}",
    )


def note(options: Options) -> int:
    from sitelog.job.photos.keeping import choose
    from sitelog.wording.prompts.attaching import on_page, with_photos

    def draft(job: Job) -> Draft:
        def noted(photos: Sequence[Photo], name: str) -> Draft:
            if options.path != "day":
                return actions.note(job.state, options.path, options.text, photos=photos, photo=name)
            return on_page(datetime.now().astimezone().date().isoformat(), options.text, photos, name)

        return with_photos(job, choose(options.photo, [Path(), job.file.path.parent]), options.whole, noted)

    return _do(options, draft, lambda state: f"{options.path}: noted{_photos(state)}")


def instrument(options: Options) -> int:
    if options.bad:
        return _do(
            options,
            lambda job: actions.doubt(job.state, options.id, options.reason),
            lambda state: f"{options.id}: marked bad; everything measured with it is flagged",
        )
    return _do(
        options,
        lambda job: actions.instrument(options.id, options.kind, options.grade),
        lambda state: f"{options.id}: on the list of tools",
    )
