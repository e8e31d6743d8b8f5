"""The commands that enter an act other than an answer."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from sitelog.cli.keep.job_file import Options, enter, named_by, opened
from sitelog.cli.keep.record import named_values, photos_said, shows_both
from sitelog.cli.script.tell import tell
from sitelog.job.actions import actions
from sitelog.job.cautions.answers import example
from sitelog.job.cautions.due import unread
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.photos.photo import Photo
from sitelog.job.state.views import State
from sitelog.refusal import DONE, Refusal
from sitelog.text import counted, text_after
from sitelog.wording.actions.table import ACTIONS


def asked(options: Options) -> int:
    """A command that answers its action's prompt: the flags that it names are the answers, in order."""
    from sitelog.wording.prompts import prompts  # with all that any of them asks about

    action = next(action for action in ACTIONS if action.command and action.command.name == options.command)
    command = action.command
    answers = [str(getattr(options, name)) for name in command.answers] if command else []
    return enter(
        options,
        lambda job: prompts.ASKED[action.name](prompts.Here(job.state, options.path, named_by(options))).make(answers),
        lambda state: command.done.format_map(vars(options)) if command else "",
    )


def draw(options: Options) -> int:
    """Change figures of the drawing."""
    for word in options.figures:
        if "=" not in word:
            raise Refusal(f"{word!r} needs a name and =, such as pitch=37")
    values = named_values(options.part, options.figures)
    return enter(
        options,
        lambda job: actions.draw(job.state, options.part, values),
        lambda state: f"{options.part}: drawing figures changed; {counted(len(state.stale), 'check')} to do again",
    )


def undo(options: Options) -> int:
    """Take the last entry back."""
    return enter(
        options,
        lambda job: actions.undo(job.state, job.entries),
        lambda state: "undone; both stay in the record",
    )


def sign(options: Options) -> int:
    """Sign a stage; cautions that nobody has read are told."""
    return enter(
        options,
        lambda job: actions.sign(job.state, options.path),
        lambda state: "\n".join([f"{options.path}: signed by {named_by(options)}", *_unread(state, options.path)]),
    )


def _unread(state: State, path: str) -> Iterator[str]:
    """The stage's cautions that nobody has read, in a line."""
    stage = state.stage(path)
    found = unread((stage,), state) if stage else ()
    if found:
        yield f"not read yet: {', '.join(f'{asked.caution.id} ({asked.caution.title})' for asked in found)}"


def _at(state: State) -> str:
    """The stage that the last answer to a caution is for, if it is for one alone."""
    path = state.readings[-1].path
    return text_after(", for ", path)


def snag(options: Options) -> int:
    """Raise a snag, or with --close say that it is put right."""
    if options.close:
        return enter(
            options,
            lambda job: actions.close_snag(job.state, options.close),
            lambda state: f"snag {options.close}: closed; {len(state.open_snags)} open",
        )
    return enter(
        options,
        lambda job: actions.snag(job.state, options.path, options.text, who=options.who, due=options.due),
        lambda state: f"snag {state.snags[-1].id}: raised; {len(state.open_snags)} open",
    )


def defer(options: Options) -> int:
    """Leave a check until a later stage."""
    return enter(
        options,
        lambda job: actions.defer(job.state, options.path, options.until, options.reason),
        lambda state: f"{options.path}: left till {options.until}",
    )


def read(options: Options) -> int:
    """Answer a caution; without one, list those of the stage in hand."""
    if not options.caution:
        return _cautions(options)

    def draft(job: Job) -> Draft:
        caution = job.library.cautions.get(options.caution)
        if caution and not options.answer.strip():
            raise Refusal(f"Add the answer: sitelog read {options.file} {caution.id} {example(caution.question)}")
        return actions.read_caution(job.state, job.library, options.caution, options.answer, at=options.at)

    return enter(
        options,
        draft,
        lambda state: f"{options.caution}: read by {named_by(options)}{_at(state)}",
    )


def _cautions(options: Options) -> int:
    """The cautions of the stage in hand."""
    from sitelog.cli.page import cautions

    with opened(options, read_only=True) as job:
        state = job.state

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Cautions
        from sitelog.job.show import caution_data

        here = [one for one in caution_data(state) if state.next.startswith(one.stage)]
        return Cautions(said=said, cautions=here)

    tell(options, cautions(state), data)
    return DONE


def note(options: Options) -> int:
    """Note words, photos or both on a check, a stage, or with `day` in the site diary."""

    def draft(job: Job) -> Draft:
        def noted(photos: Sequence[Photo], name: str) -> Draft:
            if options.path != "day":
                return actions.note(job.state, options.path, options.text, photos=photos, photo=name)
            from sitelog.wording.prompts.attaching import on_page

            return on_page(datetime.now().astimezone().date().isoformat(), options.text, photos, name)

        if not options.photo:
            return noted((), "")
        from sitelog.job.photos.choosing import choose
        from sitelog.wording.prompts.attaching import with_photos

        return with_photos(
            job, choose(options.photo, [Path(), job.file.path.parent]), options.whole, noted, shows_both(options)
        )

    return enter(options, draft, lambda state: f"{options.path}: noted{photos_said(state)}")


def instrument(options: Options) -> int:
    """Put a tool on the list, or with --bad mark it bad."""
    if options.bad:
        return enter(
            options,
            lambda job: actions.doubt(job.state, options.id, options.reason),
            lambda state: f"{options.id}: marked bad; everything measured with it is flagged",
        )
    return enter(
        options,
        lambda job: actions.instrument(options.id, options.kind, options.grade),
        lambda state: f"{options.id}: on the list of tools",
    )
