"""How many words a list may take to say a thing. Lint alone holds these: a list that is wordier still loads."""

import re
from collections.abc import Iterator

from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault

QUESTION = 12
WHY = 16
TIP = 20
SENTENCE = 20  # of a caution
WRITTEN = {"deg": "degrees"}  # a unit as a label may say it


def questions_are_short(context: LintContext) -> Iterator[Fault]:
    """A question has no more words than are read on a scaffold."""
    asks = [(spot.at("ask"), f"{stage.id}.{check.id}", check.ask) for spot, stage, check in context.checks()]
    for spot, caution in context.cautions.values():
        asks.append((spot.at("question", "ask"), caution.id, caution.question.ask))
    for spot, name, ask in asks:
        words = count(ask)
        if words > QUESTION:
            yield spot.fault(f"{name}: its question has {words} words; at most {QUESTION}, so cut it or part it")


def labels_leave_out_the_unit(context: LintContext) -> Iterator[Fault]:
    """The unit of a figure is beside its field, so it isn't in its label too; a question alone may end in it."""
    for spot, stage, check, figure in context.figures():
        said = figure.says.rpartition(", ")[2]
        if figure.says != check.ask and figure.unit and said in (figure.unit, WRITTEN.get(figure.unit)):
            name = f"{stage.id}.{check.id} {figure.key}"
            yield spot.at("says").fault(f"{name}: take {said} off its label, the unit is beside the field")


def whys_are_short(context: LintContext) -> Iterator[Fault]:
    """A reason is one cause and one effect."""
    whys = [(spot.at("why"), stage.id, stage.why) for spot, stage in context.stages()]
    whys += [(spot.at("why"), f"{stage.id}.{check.id}", check.why) for spot, stage, check in context.checks()]
    for spot, name, why in whys:
        words = count(why)
        if words > WHY:
            yield spot.fault(f"{name}: its why has {words} words; at most {WHY}, one cause and one effect")


def tips_are_short(context: LintContext) -> Iterator[Fault]:
    """A tip is one line under its check."""
    for spot, stage, check in context.checks():
        words = count(check.tip)
        if words > TIP:
            yield spot.at("tip").fault(f"{stage.id}.{check.id}: its tip has {words} words; at most {TIP}, one line")


def sentences_of_cautions_are_short(context: LintContext) -> Iterator[Fault]:
    """What hurts, what to do and what to ask are told in short sentences."""
    for spot, caution in context.cautions.values():
        for key, text in (("hurts", caution.hurts), ("do", caution.do), ("ask", caution.ask)):
            words = max(map(count, re.split(r"(?<=[.?!])\s", text)))
            if words > SENTENCE:
                more = f"a sentence of {key} has {words} words; at most {SENTENCE}, so make it two"
                yield spot.at(key).fault(f"{caution.id}: {more}")


def count(text: str) -> int:
    """Its words; a dash or a stop that stands alone is none."""
    return sum(any(letter.isalnum() for letter in word) for word in text.split())


RULES: tuple[Rule, ...] = (
    questions_are_short,
    labels_leave_out_the_unit,
    whys_are_short,
    tips_are_short,
    sentences_of_cautions_are_short,
)
