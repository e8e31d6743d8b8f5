"""A caution in words: what can hurt, what to do, who to ask, where its figures stand, and what it asks."""

from collections.abc import Iterator

from sitelog.calculators.sheet import STAND
from sitelog.checklist.schema.guidance import Caution, Gauge, Question
from sitelog.checklist.schema.model import Library
from sitelog.job.cautions.answers import in_turn
from sitelog.job.cautions.applies import unsaid
from sitelog.job.state.views import State
from sitelog.quantities.rounding import as_typed
from sitelog.text import text_after, text_if

FIRST = f"Figures are {STAND}. Local rules and the site method statement come first."
HOUSE = "House rule"  # said in the figure itself, it need not be said again as its source
UNANSWERED = "Not answered yet"
WANTED = {
    "number": "the reading, as a number",
    "name": "the name",
    "place": "the place",
    "choice": "the number of the right answer",
}


def caution_words(
    caution: Caution, library: Library, state: State, *, brief: bool = False
) -> Iterator[tuple[str, str]]:
    """(first word, words), the last without a first word: what comes before all of it.

    `brief` tells the figures in one, without where in its source each stands: the page of sources has that too.
    """
    figures = [_figure(says, source, library, brief=brief) for says, source in caution.figures]
    yield from (("Why", f"Nobody has answered: {ask}") for ask in unsaid(caution, state))
    yield from (("Danger", caution.hurts), ("Do", caution.do), ("Ask", caution.ask))
    yield from (("Figure", told) for told in (["; ".join(figures)] if brief and figures else figures))
    yield "", FIRST


def _figure(says: str, source_id: str, library: Library, *, brief: bool) -> str:
    source = library.sources.get(source_id)
    if source is None or (brief and says.startswith(HOUSE) and source.title.startswith(HOUSE)):
        return says
    memory = text_if(source.how == "memory", ", from memory")
    locator = text_if(not brief, text_after(", ", source.locator))
    return f"{says} ({source.title}{locator}{memory})"


def which_words(first: int, last: int, of: int) -> str:
    """Which of the cautions stand on the page: "2 of 3", "1 to 3 of 5"; "" for one that is the only one."""
    if of <= 1:
        return ""
    if first == last:
        return f"{first} of {of}"
    return f"{first} to {last} of {of}"


def wanted(question: Question) -> str:
    """What is to be given: "the name", or the readings in turn."""
    if question.readings:
        return f"the readings, {in_turn(question)}, such as 12 18"
    return WANTED[question.kind]


def question_line(question: Question) -> str:
    """The question, and the readings or the words that stop the work; a choice says so at each of its answers."""
    stopping = [stop for gauge in question.gauges for stop in _stops(gauge)]
    if question.kind in ("name", "place"):
        stopping = [f"'{answer}'" for answer in question.stop_on]
    stop = f"   (stop work if {' or '.join(stopping)})" if stopping else ""
    return f"{question.ask}{stop}"


def _stops(gauge: Gauge) -> Iterator[str]:
    name = f"{gauge.key.replace('_', ' ')} " if gauge.key else ""
    if gauge.stop_under is not None:
        yield f"{name}under {as_typed(gauge.stop_under)}"
    if gauge.stop_from is not None:
        yield f"{name}{as_typed(gauge.stop_from)} or over"


def choice_lines(question: Question) -> list[str]:
    """The answers of a choice, each with its number."""
    return [
        f"{number}  {choice}{text_if(choice in question.stop_on, '   STOP WORK')}"
        for number, choice in enumerate(question.choices, 1)
    ]


def stop_line(caution: Caution, answer: str, way_on: str = "") -> str:
    """What is said when the answer stops the work; `way_on` is how it is answered again."""
    told = (f"STOP WORK. {caution.question.ask.rstrip('?')}: {answer.strip()}.", way_on, caution.do)
    return " ".join(filter(None, told))
