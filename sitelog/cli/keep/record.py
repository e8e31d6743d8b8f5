"""`sitelog record`: the answer to a check, with its photos and the time that it was done."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from sitelog.cli.keep.job_file import Options, entered, next_line
from sitelog.cli.script.tell import tell
from sitelog.job.actions.answers import answer, done_at, named_figures
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.photos.photo import Photo, in_words, noted
from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, State
from sitelog.refusal import DONE, PROBLEM, Refusal
from sitelog.text import text_after


def record(options: Options) -> int:
    """Answer a check; 1 where it is out, or too close to call.

    Refusal as `actions.answer` gives it; a change of an answer wants a --note.
    """

    def draft(job: Job) -> Draft:
        view = job.state.check(options.path)
        values = named_values(options.path, options.values, view)
        is_photo = view is not None and view.check.kind == "photo"
        text = values.pop("photo", "") or (values.pop("value", "") if is_photo else "")

        def answered(photos: Sequence[Photo], name: str) -> Draft:
            done = event_time(options.done, datetime.now().astimezone())
            texts = values | noted(name)
            state, library, path = job.state, job.library, options.path
            try:
                draft = answer(
                    state, library, path, texts, note=options.note, instrument=options.instrument, photos=photos
                )
            except ReasonWanted as wanted:
                raise Refusal(f'{wanted.message}: --note "misread the tape"') from None
            return done_at(draft, done)

        if not text:
            return answered((), "")
        from sitelog.job.photos.choosing import choose
        from sitelog.wording.prompts.attaching import with_photos

        return with_photos(
            job, choose(text, [Path(), job.file.path.parent]), options.whole, answered, shows_both(options)
        )

    state = entered(options, draft)
    view = state.check(options.path)

    def data(lines: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Recorded
        from sitelog.job.show import check_data

        check = check_data(view, state) if view else None
        return Recorded(said=lines, entries=state.entries, head=state.head, next=state.next, check=check)

    stands = _stands(view) if view else "entered"
    tell(options, [f"{options.path}: {stands}{photos_said(state)}", next_line(state)], data)
    return PROBLEM if view and view.state in ("out", "unsure") else DONE


def shows_both(options: Options) -> Callable[[str], None]:
    """What is told of a photo that shows another check already: a Refusal where the command doesn't say so itself."""

    def agree(told: str) -> None:
        if not options.same_photo:
            raise Refusal(f"{told}. Add --same-photo if it shows {options.path} too")

    return agree


def _stands(view: CheckView) -> str:
    """How a check stands; of one that can't be judged yet, why."""
    if view.state == "unsure":
        return f"{state_word(view)}{text_after(': ', view.refusal)}"
    return state_word(view)


def photos_said(state: State) -> str:
    """What is said of the photos of the entry just made, after what is said of it."""
    words = in_words(state.last.value) if state.last else ""
    return text_after("; ", words)


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


def named_values(path: str, words: Sequence[str], view: CheckView | None = None) -> dict[str, str]:
    """One bare value as `value`, or key=value for each of several, which the check at `path`, if known, names."""
    pairs: dict[str, str] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals:
            key, value = "value", word
        if key in pairs and equals:
            raise Refusal(f"{path}: {key} is there twice; give it once")
        if key in pairs:
            bare = [word for word in words if "=" not in word]
            several = "Type one answer, in quotes"
            if view and view.check.figures:
                several = named_figures(view, bare)
            raise Refusal(f"{path}: {several}")
        pairs[key] = value
    return pairs
