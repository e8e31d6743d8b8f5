"""One check answered line by line: its figures or its choice, what they come to, and the ways on when it is out."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress

from sitelog.checklist.schema.model import Figure
from sitelog.job.actions import actions
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.preview import preview
from sitelog.job.log.entry import Draft
from sitelog.job.photos.photo import Photo, noted
from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.record_views import Instrument
from sitelog.job.state.views import CheckView, State
from sitelog.lines.photos import photo_of, shows_both
from sitelog.lines.session import LineSession
from sitelog.lines.talk import BACK, Left, said_before
from sitelog.refusal import Refusal
from sitelog.text import text_if
from sitelog.wording.formatting import limit_text, meant_words
from sitelog.wording.prompts import correcting, prompts
from sitelog.wording.prompts.asking import (
    TOOL,
    WORDS,
    as_read,
    measured_again,
    offers_ways,
    stands_out,
    way_line,
    way_snag,
    ways_on,
    ways_title,
)  # fmt: skip
from sitelog.wording.prompts.attaching import with_photos
from sitelog.wording.prompts.remedies import remedy_lines
from sitelog.wording.prompts.tools import last_tool, named, wants_tool
from sitelog.wording.result import (
    about_lines,
    input_lines,
    outcome_lines,
    read_with,
    spoken,
    table_lines,
    takes_like,
    working_lines,
)

NOTE = "note"
NONE = "-"  # said where the figures were measured with nothing of the register


def answer(session: LineSession, path: str, *, again: bool) -> bool:
    """True when an answer, a snag or a release was entered. Left when somebody said `back`."""
    view = _view(session, path)
    if offers_ways(view, again=again):
        return _ways_on(session, path)
    if view.check.kind == "measure":
        return _measure(session, path)
    if view.check.kind == "choice":
        return _choose(session, view)
    if view.check.kind in WORDS:
        return _words(session, view)
    return _word(session, view)


def _view(session: LineSession, path: str) -> CheckView:
    view = session.state.check(path)
    if view is None:
        raise LookupError(path)
    return view


def _enter(session: LineSession, path: str, given: dict[str, str], tool: str = "", why: str = "") -> bool:
    """Photos are copied before the answer that names them is entered. `why` it corrects one, where that is known."""
    found, whole = photo_of(session, _view(session, path))

    def draft(photos: Sequence[Photo], name: str, why: str = "") -> Draft:
        texts = given | noted(name)
        return actions.answer(session.state, session.job.library, path, texts, note=why, instrument=tool, photos=photos)

    why = why or _why_anew(session, path, lambda: draft((), found.name or "".join(map(str, found.sources[:1]))))
    return session.attempt(
        lambda: with_photos(
            session.job,
            found,
            whole,
            lambda photos, name: draft(photos, name, why),
            lambda told: shows_both(session, told),
        )
    )


def _why_anew(session: LineSession, path: str, prove: Callable[[], object]) -> str:
    """The reason, where this corrects an answer; "" where it does not, or can't be entered whatever is said."""
    try:
        prove()
    except ReasonWanted:
        view = _view(session, path)
        text = session.question(
            correcting.why_anew(view, session.state), lambda text: correcting.reason_anew(view, text)
        )
        return correcting.reason_anew(view, text)
    except Refusal:
        pass  # told as it is entered
    return ""


# -- one word --


def _choose(session: LineSession, view: CheckView) -> bool:
    session.talk.say(*about_lines(view, session.state, takes=False))
    at = session.talk.pick(view.check.ask + ".", [choice.label for choice in view.check.choices])
    return _enter(session, view.path, {"value": view.check.choices[at].id})


def _words(session: LineSession, view: CheckView) -> bool:
    session.talk.say(*about_lines(view, session.state))
    kind = view.check.kind
    if kind == "photo":
        return _enter(session, view.path, {})
    typed = session.question(prompts.Question(view.check.ask, f"{view.check.ask}.", WORDS[kind]))
    return _enter(session, view.path, {"value": typed})


def _word(session: LineSession, view: CheckView) -> bool:
    """A tick, or a sum that is accepted: 1 gives the word, and nothing shorter."""
    state = session.state
    if view.check.kind == "calculate":
        session.talk.say(*input_lines(view, state.units, spoken), *sum_lines(session, view))
        says = "Type 1 if you are cutting to this"
    else:
        session.talk.say(*about_lines(view, state, takes=False))
        says = "Type 1 when it is done"
    working = text_if(view.answer, ", working to see how it was worked out")
    noting = text_if(view.check.kind == "tick", f", {NOTE} to add a note first")

    def is_done(text: str) -> bool:
        if view.answer and text.casefold() in ("working", "w"):
            session.talk.say(*working_lines(view.answer, state.units))
            raise Refusal("That is all of the working.")
        if noting and text.casefold() in (NOTE, "n"):
            return False
        if text != "1":
            words = f"{text_if(working, ', working')}{text_if(noting, f', {NOTE}')}"
            raise Refusal(f"{text!r} isn't an answer here: type 1 for yes{words}, or {BACK}.")
        return True

    ask = f"{view.check.ask}. {says}{working}{noting}, or {BACK} to leave it."
    while not session.talk.ask(ask, is_done, (f"{says}.",)):
        with suppress(Left):
            session.do(lambda: prompts.note(session.here(view.path)))
    return _enter(session, view.path, {})


def sum_lines(session: LineSession, view: CheckView) -> list[str]:
    """What the figures come to: results, verdict and rows, each a line that can be listened to."""
    state = session.state
    rows = table_lines(view.answer, state.units) if view.answer and not view.refusal else []
    return [line for line in (*outcome_lines(view, state, rows=False, row=spoken), *rows) if line.strip()]


# -- figures --


def _measure(session: LineSession, path: str, why: str = "") -> bool:
    """The figures in turn, then what they come to; nothing is entered before that has been said.

    `why` it is measured again, where that is known; else it is asked where a reason is wanted.
    """
    while True:
        texts = {figure.key: _figure(session, path, figure) for figure in _view(session, path).check.figures}
        tool = _tool(session, path)
        given = {key: text for key, text in texts.items() if text.strip()}
        would_be, problem = preview(session.state, session.job.library, _view(session, path), texts, tool)
        session.talk.say(*([problem] if problem else []), *sum_lines(session, would_be))
        if session.talk.pick("Is that what you measured?", ["save it", "type the figures again"]):
            _forget(session, path)
        elif _enter(session, path, given, tool, why):
            break
        elif session.session.unsaved:
            return False
    _forget(session, path)
    if stands_out(_view(session, path)):
        _ways_on(session, path)
    return True


def _forget(session: LineSession, path: str) -> None:
    session.drafts.drop(path)


def _figure(session: LineSession, path: str, figure: Figure) -> str:
    """One figure, read in its kind as soon as it is said; it is kept for the next time should the job be left here."""
    view, typed = _view(session, path), session.drafts.typed(path)
    standing = typed.get(figure.key, "")

    def hear(text: str) -> str:
        text = text or standing
        if text:
            figure_value(session.state, session.job.library, view, figure, text)
        elif not figure.optional:
            raise Refusal(
                f"{figure.says or view.check.ask}: nothing typed. Type {takes_like(view, figure)}, or {BACK}."
            )
        return text

    ask = _figure_asked(session, view, figure, typed)
    text = session.talk.ask(" ".join(ask), hear, about_lines(view, session.state, figure.key))
    session.drafts.keep(path, {**typed, figure.key: text})
    return text


def _figure_asked(session: LineSession, view: CheckView, figure: Figure, typed: Mapping[str, str]) -> Iterator[str]:
    """What it is, what it is meant to be, its limit, and what can be typed."""
    would_be, _ = preview(session.state, session.job.library, view, typed)
    seen = next(view for view in would_be.figures if view.key == figure.key)
    yield f"{figure.says or view.check.ask}."
    if seen.drawn is not None:
        told = meant_words(seen, session.state.units)
        yield f"{told[0].upper()}{told[1:]}."
    if seen.limit:
        yield f"{limit_text(seen, session.state)}."
    if tool := read_with(figure):
        yield tool
    yield f"Type {takes_like(view, figure)}."
    if standing := typed.get(figure.key, ""):
        yield said_before(standing)
    elif figure.optional:
        yield "Press Enter to leave it out."


def _tool(session: LineSession, path: str) -> str:
    """What it was measured with: of the register by its number, or one that is put into it now."""
    view = _view(session, path)
    if not wants_tool(view):
        return ""
    used = session.drafts.typed(path).get(TOOL, "") or last_tool(view, session.state, session.job.entries)
    known = [tool for tool in session.state.instruments.values() if not tool.doubted]
    known.sort(key=lambda tool: tool.id != used)
    name = _tool_asked(session, known, used)
    if name and name not in session.state.instruments:
        session.do(lambda: prompts.unknown(name, session.state))
    if name not in session.state.instruments:
        return ""
    return name


def _tool_asked(session: LineSession, known: Sequence[Instrument], used: str) -> str:
    """The name of the tool that was said, be it on the list or not; "" for none."""
    rows = [f"{named(tool)}{text_if(tool.id == used, ', used last')}" for tool in known]
    session.talk.say("What did you measure it with?", *(f"{number} {row}" for number, row in enumerate(rows, 1)))
    number = text_if(known, "a number, ")
    ask = f"Type {number}the name on the tool, or {NONE} if it isn't on the list."
    more = ("The tape's class sets how far its reading can be trusted.",)
    return session.talk.ask(ask, lambda text: _tool_said(text, known, session.state), more)


def _tool_said(text: str, known: Sequence[Instrument], state: State) -> str:
    """The name of the tool, for its number or its name; "" for none of the list. Refusal for nothing said."""
    if not text:
        raise Refusal(f"Type the name of the tool, or {NONE} if it isn't on the list.")
    if text == NONE:
        return ""
    is_number = text.isascii() and text.isdecimal() and text not in state.instruments
    if is_number and 1 <= int(text) <= len(known):
        return known[int(text) - 1].id
    return text


# -- the ways on --


def _ways_on(session: LineSession, path: str) -> bool:
    view = _view(session, path)
    told = [line for line in remedy_lines(view, session.state, session.job.library) if line]
    session.talk.say(*sum_lines(session, view), way_line(view), *told)
    ways = ways_on(view)
    left = (f"{BACK} leaves it for now. The stage still can't go on.",)
    way = list(ways)[session.talk.pick(ways_title(view), list(ways.values()), left)]
    if way == "measure":
        return _measure(session, path, measured_again(view))
    if way == "accept":
        return session.attempt(lambda: actions.release(session.state, path, as_read(view)))
    if way == "snag":
        return session.do(lambda: prompts.snag(session.here(path), way_snag(_view(session, path))))
    return session.do(lambda: prompts.release(session.here(path)))
