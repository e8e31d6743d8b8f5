"""What a sum gives, as lines of a screen: inputs and where they came from, results drawn and built, the verdict."""

from collections.abc import Callable

from sitelog.calculators import sheet
from sitelog.calculators.catalogue import Answer
from sitelog.checklist.schema.instruments import INSTRUMENTS
from sitelog.checklist.schema.kinds import unit_of_kind
from sitelog.checklist.schema.model import FLOORS, Check, Figure
from sitelog.job.actions.made_up import made_up
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, FigureView, InputView, State
from sitelog.quantities.quantity import Units, accepts
from sitelog.text import text_after, text_between
from sitelog.wording.formatting import close_call, in_words, label, limit_text, row_figures, value_text, when

SLIM, BROAD = 52, 76  # columns of a page from which a row needs no second line, and from which it has all its room
LaidOut = Callable[[str, str, str], str]  # (label, figure, more) to a line
_VERDICTS: dict[str | None, str] = {
    "pass": "OK",
    "fail": "OUT",
    "unsure": "TOO CLOSE TO CALL with this tool",
}
# What the one figure of a check is called beside its field: the question is above it.
_LABELS = {
    "length": "length",
    "lengths": "lengths",
    "offset": "reading",
    "offsets": "readings",
    "angle": "angle",
    "pitch": "pitch",
    "fall": "fall",
    "section": "section",
    "count": "count",
}
_NOT_JUDGED = "NOT JUDGED: see below"
_ENTERS = {
    "tick": "Press Enter when it is done. Press n first to note who agreed what.",
    "choice": "Press the number of the right answer.",
    "calculate": "Press Enter if you are cutting to this.",
    "photo": "The photo is copied into the job folder. A name with no file attaches nothing.",
    "sign": "Typing your name signs it.",
}


def is_the_question(says: str, check: Check) -> bool:
    """Whether a figure is the one that its check asks for, with no name of its own."""
    return says in ("", check.ask)


def figure_label(says: str, kind: str, check: Check) -> str:
    """What a figure is called beside its field: the one that its check asks for by its kind, `length`."""
    if is_the_question(says, check):
        return _LABELS.get(kind, "figure")
    return says


def columned(label: str, text: str, more: str = "") -> str:
    """A row for the eye: the figures of several rows stand under each other."""
    return f"{label:<30} {text:>14}{text_after('   ', more)}"


def columned_at(width: int) -> LaidOut:
    """The row for the eye of a page so many columns wide: on a slim one, what is drawn is on a line below."""
    if width >= BROAD:
        return columned
    words, figure = (31, 10) if width >= SLIM else (22, 10)

    def row(label: str, text: str, more: str = "") -> str:
        if len(label) > words or len(text) > figure:
            return f"{label}\n{text_between('', text, text_after('  ', more)):>{width - 3}}"
        line = f"{label:<{words}} {text:>{figure}}"
        if len(line) + 2 + len(more) <= width - 3:
            return f"{line}{text_after('  ', more)}"
        return f"{line}\n{more:>{words + 1 + figure}}"

    return row


def spoken(label: str, text: str, more: str = "") -> str:
    """The same row for the ear."""
    return f"{label}: {text}{text_after(', ', more)}"


def input_lines(view: CheckView, units: Units, row: LaidOut = columned) -> list[str]:
    """Each input of the sum and whether it is drawn or built."""
    return [_input(fed, units, row) for fed in view.inputs if fed.value is not None]


def _input(fed: InputView, units: Units, row: LaidOut) -> str:
    return row(
        fed.name.replace("_", " "), value_text(unit_of_kind(fed.kind), fed.value, units, typed=fed.typed), fed.origin
    )


def about_lines(view: CheckView, state: State, key: str = "", *, takes: bool = True) -> list[str]:
    """What is told while there is nothing to work: what the figure under the cursor takes, the limits, why, and what
    stands already. `takes` False leaves out how it is entered on a screen."""
    whole = limit_text(view, state)
    lines = [
        _enters(view, key) if takes else "",
        *_limits(view, state),
        whole[:1].upper() + whole[1:],
        text_after("Why: ", view.check.why),
        tip_text(view.check),
        _now(view, state) if view.by else "",
    ]
    return ["", *(line for line in lines if line)]


def _limits(view: CheckView, state: State) -> list[str]:
    """The limit of each figure that has one of its own; once where all have the same."""
    held = [figure for figure in view.figures if figure.limit and not is_the_question(figure.says, view.check)]
    told = [limit_text(figure, state) for figure in held]
    if len(view.figures) == len(told) > 1 and len(set(told)) == 1:
        return [f"Each: {told[0]}"]
    return [f"{figure.says}: {text}" for figure, text in zip(held, told, strict=True)]


def tip_text(check: Check) -> str:
    """How one person does it alone, with its standing; "" where the list has none."""
    return text_between("Tip: ", check.tip, " (common practice)")


def read_with(figure: Figure) -> str:
    """What the figure is read with, as an order; "" where it is counted, or off print, or its list doesn't say."""
    if not figure.read_with or figure.exact:
        return ""
    return f"Read it with a {INSTRUMENTS[figure.read_with].says}."


def takes_like(view: CheckView, figure: Figure) -> str:
    """What may be typed for a figure of a check, with one that is made up: "a length such as 400 or 16in"."""
    return accepts(figure.kind, like=made_up(view, figure))


def _enters(view: CheckView, key: str) -> str:
    """What the figure of that key takes; without one, how a check of its kind is entered."""
    figure = view.check.figure(key) if key else None
    if figure and is_the_question(figure.says, view.check):
        return f"Type {takes_like(view, figure)}.{text_after(' ', read_with(figure))}"
    if figure:
        return f"{figure.says}: {takes_like(view, figure)}{text_after('. ', read_with(figure))}"
    return _ENTERS.get(view.check.kind, "")


def _now(view: CheckView, state: State) -> str:
    stands = row_figures(view, state.units)
    return f"Now: {', '.join(filter(None, (state_word(view), stands, view.by, when(view.at))))}"


def outcome_lines(view: CheckView, state: State, *, rows: bool = True, row: LaidOut = columned) -> list[str]:
    """What the figures come to: the results that the check shows, drawn beside built, the verdict, then the rest.

    `rows` False leaves out the tables, where the room is wanted for something else.
    """
    return _outcome(view, state, verdict_lines(view, state), rows=rows, row=row)


def result_lines(view: CheckView, state: State, *, rows: bool = True, row: LaidOut = columned) -> list[str]:
    """The same without the verdict, for a page that shows that in a place of its own."""
    return _outcome(view, state, [], rows=rows, row=row)


def _outcome(view: CheckView, state: State, verdict: list[str], *, rows: bool, row: LaidOut) -> list[str]:
    if view.refusal:
        return ["", in_words(view.refusal, state)]
    answer, units = view.answer, state.units
    shown = shown_lines(view, units, row)
    others = _others(view, answer, units, rows, row) if answer else []
    return [*_apart(shown), *_apart(verdict), *others]


def shown_lines(view: CheckView, units: Units, row: LaidOut = columned) -> list[str]:
    """The results that the check shows, drawn beside built."""
    if not view.answer:
        return []
    return [_beside(view.answer, view.answer_drawn, path, units, row) for path in view.check.shows]


def table_lines(answer: Answer, units: Units) -> list[str]:
    """The results that are rows, each row told with its heads: no column has to be looked up or along."""
    return [
        line
        for table in sheet.tables(answer, units)
        for line in (
            f"{table.label}:",
            *(
                "; ".join(f"{head} {cell}" for head, cell in zip(table.header, cells, strict=True) if cell)
                for cells in table.rows
            ),
        )
    ]


def _apart(lines: list[str]) -> list[str]:
    if not lines:
        return []
    return ["", *lines]


def _others(view: CheckView, answer: Answer, units: Units, rows: bool, row: LaidOut) -> list[str]:
    """The results that the check does not show: all of a sum's, the rows alone of a measure's."""
    names = {path.partition(".")[0] for path in view.check.shows}
    rest = [
        row(line.label, line.text, "")
        for line in sheet.lines(answer, units)
        if line.name not in names and view.check.kind == "calculate"
    ]
    tables = sheet.tables(answer, units) if rows else []
    return [*_apart(rest), *(line for table in tables for line in _apart(sheet.ruled(table)))]


def _beside(answer: Answer, drawn: Answer | None, path: str, units: Units, row: LaidOut) -> str:
    as_drawn = sheet.scalar(drawn, path, units) if drawn else ""
    more = text_after("drawn ", as_drawn)
    return row(label(answer.calculator, path), sheet.scalar(answer, path, units), more)


def verdict_lines(view: CheckView, state: State, *, good: bool = True) -> list[str]:
    """Each figure held to a limit of its own, then the whole check, then what the sum has to say of it.

    `good` False leaves out the figures that are inside theirs, where the room is wanted for something else.
    """
    if view.refusal:
        return []
    notes = view.answer.notes if view.answer else ()
    judged, whole = _judged(view, state, good=good), _whole_verdict(view, state) if view.verdict else ""
    return [
        *judged,
        *filter(None, (close_call(figure, state.units) for figure in view.figures)),
        *([whole] if whole and not (judged and whole == _VERDICTS["pass"]) else []),  # each figure has said so
        *(note[:1].upper() + note[1:] for note in notes),
    ]


def _judged(view: CheckView, state: State, *, good: bool) -> list[str]:
    """The figures held to how far off they are, then those held to a size."""
    told = {"fail", "unsure", *(["pass"] if good else [])}
    judged = [figure for figure in view.figures if figure.limit and figure.verdict in told]
    off = [_off(view, figure, state) for figure in judged if _is_within(figure) and figure.difference is not None]
    return [*off, *(_held(view, figure, state) for figure in judged if not _is_within(figure))]


def _is_within(figure: FigureView) -> bool:
    """Whether its limit is on how far off it is."""
    return figure.limit is not None and figure.limit.rule == "within"


def _named(view: CheckView, figure: FigureView) -> str:
    if is_the_question(figure.says, view.check):
        label = figure_label(figure.says, figure.kind, view.check)
        return f"{label[:1].upper()}{label[1:]}"
    return figure.says


def _off(view: CheckView, figure: FigureView, state: State) -> str:
    off = value_text(figure.unit, figure.difference, state.units)
    return f"{_named(view, figure)}: {off} off, {limit_text(figure, state)}, {_VERDICTS[figure.verdict]}"


def _held(view: CheckView, figure: FigureView, state: State) -> str:
    found = value_text(figure.unit, figure.value, state.units)
    return f"{_named(view, figure)}: {found}, {limit_text(figure, state)}, {_VERDICTS[figure.verdict]}"


def _whole_verdict(view: CheckView, state: State) -> str:
    own = view.check.kind == "calculate" and not view.check.limit
    limit = "by the calculator's own rule" if own else limit_text(view, state)
    said = _NOT_JUDGED if _asks(view) else _VERDICTS[view.verdict] + _over(view, state)
    return "   ".join(part for part in (said, limit) if part)


def _asks(view: CheckView) -> bool:
    """Whether the sum itself leaves it to somebody else, and not because a tape is too coarse."""
    held = any(given.name == "tolerance" for given in view.inputs)
    return view.verdict == "unsure" and not held and view.answer is not None and view.answer.verdict == "unsure"


def _over(view: CheckView, state: State) -> str:
    """By how much the headline of a sum is over its limit."""
    limit, answer = view.limit, view.answer
    if view.verdict != "fail" or not limit or not answer or limit.rule in FLOORS or not view.check.shows:
        return ""
    if limit.amount is None:
        return ""
    found = answer.results.get(view.check.shows[0])
    over = abs(found) - limit.amount if isinstance(found, (int, float)) else 0.0
    unit = answer.units.get(view.check.shows[0])
    if over > 0 and isinstance(unit, str):
        return f" by {value_text(unit, over, state.units)}"
    return ""


def working_lines(answer: Answer, units: Units, width: int = BROAD + 3) -> list[str]:
    """The working of a sum, with its rule; `width` in columns."""
    return ["", " working", *sheet.working_rows(answer, units, width=width), f"  based on: {answer.basis}"]
