"""One check answered line by line: its figures or its choice, what they come to, and the ways on when it is out."""

from collections.abc import Callable, Sequence

from sitelog.checklist.schema.model import Figure
from sitelog.job.actions import actions
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.preview import preview
from sitelog.job.log.entry import Draft
from sitelog.job.photos.photo import Photo
from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.views import CheckView
from sitelog.lines.photos import photo_of
from sitelog.lines.session import Desk
from sitelog.lines.talk import BACK, said_before
from sitelog.quantities.quantity import ACCEPTS
from sitelog.refusal import Refusal
from sitelog.wording.formatting import limit_text, meant_words
from sitelog.wording.prompts import prompts
from sitelog.wording.prompts.asking import TOOL, WAYS, WORDS, offers_ways, stands_out, way_line, way_snag
from sitelog.wording.prompts.attaching import with_photos
from sitelog.wording.prompts.tools import last_tool, named, wants_tool
from sitelog.wording.result import about_lines, input_lines, outcome_lines, spoken, table_lines, working_lines

NONE = "-"  # said where the figures were measured with nothing of the register


def answer(desk: Desk, path: str, *, again: bool) -> bool:
    """True when an answer, a snag or a release was entered. Left when somebody said `back`."""
    view = _view(desk, path)
    if offers_ways(view, again=again):
        return _ways_on(desk, path)
    if view.check.kind == "measure":
        return _measure(desk, path)
    if view.check.kind == "choice":
        return _choose(desk, view)
    if view.check.kind in WORDS:
        return _words(desk, view)
    return _word(desk, view)


def _view(desk: Desk, path: str) -> CheckView:
    view = desk.state.check(path)
    if view is None:
        raise LookupError(path)
    return view


def _enter(desk: Desk, path: str, given: dict[str, str], tool: str = "") -> bool:
    """Photos are copied before the answer that names them is entered."""
    found, whole = photo_of(desk, _view(desk, path))

    def draft(photos: Sequence[Photo], name: str, why: str = "") -> Draft:
        texts = given | ({"photo": name} if name else {})
        return actions.answer(desk.state, desk.job.library, path, texts, note=why, instrument=tool, photos=photos)

    why = _why_anew(desk, path, lambda: draft((), found.name or "".join(map(str, found.sources[:1]))))
    return desk.attempt(lambda: with_photos(desk.job, found, whole, lambda photos, name: draft(photos, name, why)))


def _why_anew(desk: Desk, path: str, prove: Callable[[], object]) -> str:
    """The reason, where this corrects an answer; "" where it does not, or can't be entered whatever is said."""
    try:
        prove()
    except ReasonWanted:
        view = _view(desk, path)
        text = desk.question(prompts.why_anew(view, desk.state), lambda text: prompts.reason_anew(view, text))
        return prompts.reason_anew(view, text)
    except Refusal:
        pass  # told as it is entered
    return ""


# -- one word --


def _choose(desk: Desk, view: CheckView) -> bool:
    desk.talk.say(*about_lines(view, desk.state, takes=False))
    at = desk.talk.pick(view.check.ask + ".", [choice.label for choice in view.check.choices])
    return _enter(desk, view.path, {"value": view.check.choices[at].id})


def _words(desk: Desk, view: CheckView) -> bool:
    desk.talk.say(*about_lines(view, desk.state))
    kind = view.check.kind
    if kind == "photo":
        return _enter(desk, view.path, {})
    start = desk.by if kind == "sign" else ""
    typed = desk.question(
        prompts.Question(view.check.ask, f"{view.check.ask}.", WORDS[kind], start=start, offered=True)
    )
    return _enter(desk, view.path, {"value": typed})


def _word(desk: Desk, view: CheckView) -> bool:
    """A tick, or a sum that is accepted: 1 gives the word, and nothing shorter."""
    state = desk.state
    if view.check.kind == "calculate":
        desk.talk.say(*input_lines(view, state.units, spoken), *sum_lines(desk, view))
        says = "Type 1 if you are cutting to this"
    else:
        desk.talk.say(*about_lines(view, state, takes=False))
        says = "Type 1 when it is done"
    working = ", working to see how it was worked out" if view.answer else ""

    def hear(text: str) -> bool:
        if view.answer and text.casefold() in ("working", "w"):
            desk.talk.say(*working_lines(view.answer, state.units))
            raise Refusal("That is all of the working.")
        if text != "1":
            raise Refusal(f"{text!r} isn't an answer here: type 1 for yes{', working' if working else ''}, or {BACK}.")
        return True

    desk.talk.ask(f"{view.check.ask}. {says}{working}, or {BACK} to leave it.", hear, (f"{says}.",))
    return _enter(desk, view.path, {})


def sum_lines(desk: Desk, view: CheckView) -> list[str]:
    """What the figures come to: results, verdict and rows, each a line that can be listened to."""
    state = desk.state
    rows = table_lines(view.answer, state.units) if view.answer and not view.refusal else []
    return [line for line in (*outcome_lines(view, state, rows=False, row=spoken), *rows) if line.strip()]


# -- figures --


def _measure(desk: Desk, path: str) -> bool:
    """The figures in turn, then what they come to; nothing is entered before that has been said."""
    while True:
        texts = {figure.key: _figure(desk, path, figure) for figure in _view(desk, path).check.figures}
        tool = _tool(desk, path)
        given = {key: text for key, text in texts.items() if text.strip()}
        would_be, problem = preview(desk.state, desk.job.library, _view(desk, path), texts, tool)
        desk.talk.say(*([problem] if problem else []), *sum_lines(desk, would_be))
        if desk.talk.pick("Is that what you measured?", ["save it", "type the figures again"]):
            _forget(desk, path)
        elif _enter(desk, path, given, tool):
            break
        elif desk.sitting.unsaved:
            return False
    _forget(desk, path)
    if stands_out(_view(desk, path)):
        _ways_on(desk, path)
    return True


def _forget(desk: Desk, path: str) -> None:
    desk.drafts.drop(path)


def _figure(desk: Desk, path: str, figure: Figure) -> str:
    """One figure, read in its kind as soon as it is said; it is kept for the next time should the job be left here."""
    view, typed = _view(desk, path), desk.drafts.typed(path)
    would_be, _ = preview(desk.state, desk.job.library, view, typed)
    seen = next(one for one in would_be.figures if one.key == figure.key)
    ask = [f"{figure.says or view.check.ask}."]
    if seen.drawn is not None:
        told = meant_words(seen, desk.state.units)
        ask.append(f"{told[0].upper()}{told[1:]}.")
    if seen.limit:
        ask.append(f"{limit_text(seen, desk.state)}.")
    standing = typed.get(figure.key, "")
    ask.append(f"Type {ACCEPTS[figure.kind]}.")
    if standing:
        ask.append(said_before(standing))
    elif figure.optional:
        ask.append("Press Enter to leave it out.")

    def hear(text: str) -> str:
        text = text or standing
        if text:
            figure_value(desk.state, desk.job.library, view, figure, text)
        elif not figure.optional:
            raise Refusal(f"{figure.says or view.check.ask}: nothing typed. Type {ACCEPTS[figure.kind]}, or {BACK}.")
        return text

    text = desk.talk.ask(" ".join(ask), hear, about_lines(view, desk.state, figure.key))
    desk.drafts.keep(path, {**typed, figure.key: text})
    return text


def _tool(desk: Desk, path: str) -> str:
    """What it was measured with: of the register by its number, or one that is put into it now."""
    view = _view(desk, path)
    if not wants_tool(view):
        return ""
    used = desk.drafts.typed(path).get(TOOL, "") or last_tool(view, desk.state, desk.job.entries)
    known = [tool for tool in desk.state.instruments.values() if not tool.doubted]
    known.sort(key=lambda tool: tool.id != used)
    rows = [f"{named(tool)}{', used last' if tool.id == used else ''}" for tool in known]
    desk.talk.say("What did you measure it with?", *(f"{number} {row}" for number, row in enumerate(rows, 1)))

    def hear(text: str) -> str:
        if text == NONE:
            return ""
        if text in desk.state.instruments:
            return text
        if text.isascii() and text.isdecimal() and 1 <= int(text) <= len(known):
            return known[int(text) - 1].id
        if not text:
            raise Refusal(f"Type the name of the tool, or {NONE} if it isn't on the list.")
        return text

    number = "a number, " if known else ""
    ask = f"Type {number}the name on the tool, or {NONE} if it isn't on the list."
    name = desk.talk.ask(ask, hear, ("The tape's class sets how far its reading can be trusted.",))
    if name and name not in desk.state.instruments:
        desk.do(lambda: prompts.unknown(name, desk.state))
    return name if name in desk.state.instruments else ""


# -- the ways on --


def _ways_on(desk: Desk, path: str) -> bool:
    view = _view(desk, path)
    desk.talk.say(*sum_lines(desk, view), way_line(view))
    way = desk.talk.pick("Choose one:", WAYS, (f"{BACK} leaves it for now. The stage still can't go on.",))
    if way == 0:
        return _measure(desk, path)
    if way == 1:
        return desk.do(lambda: prompts.snag(desk.state, path, way_snag(_view(desk, path))))
    return desk.do(lambda: prompts.release(desk.state, path, desk.by))
