"""Any calculator by itself, its inputs asked in turn, with what is known of the part in hand."""

from collections.abc import Iterator

from sitelog.calculators import sheet
from sitelog.calculators.ask import ask, input_value
from sitelog.calculators.catalogue import Answer, Calculator
from sitelog.calculators.catalogue import Input as Wanted
from sitelog.calculators.index import calculators
from sitelog.checklist.schema.kinds import unit_of_kind
from sitelog.lines.session import LineSession
from sitelog.quantities.quantity import Units, accepts
from sitelog.refusal import Refusal
from sitelog.wording.formatting import value_text
from sitelog.wording.prompts.calculating import LEFT_OUT, KnownInputs, known_of
from sitelog.wording.result import spoken, table_lines


def work(session: LineSession, part: str) -> None:
    """Ask which, ask its inputs, and say what they come to; again until it is left."""
    every = list(calculators().values())
    rows = [f"{calculator.name}: {calculator.does}" for calculator in every]
    calculator = every[session.talk.pick("Which calculator?", rows)]
    known = known_of(calculator, session.state, part)
    while True:
        texts = {wanted.name: _input(session, calculator, wanted, known) for wanted in calculator.inputs}
        answer = _worked(session, calculator, texts, known)
        if answer:
            session.talk.say(*answer_lines(session, answer))
        if session.talk.pick("What now?", ["type other figures", "done"]):
            return


def _input(session: LineSession, calculator: Calculator, wanted: Wanted, known: dict[str, KnownInputs]) -> str:
    takes = accepts(wanted.kind, wanted.choices)
    stands = known.get(wanted.name)
    says = [
        f"{wanted.name.replace('_', ' ')}: {wanted.says}. Type {takes}.",
        *_on_enter(wanted, stands, session.state.units),
    ]

    def hear(text: str) -> str:
        if not text and wanted.required and not stands and wanted.default is None:
            raise Refusal(f"{wanted.name.replace('_', ' ')}: nothing typed. Type {takes}.")
        if text and text != LEFT_OUT:
            input_value(calculator, wanted, text)
        return text

    return session.talk.ask(" ".join(says), hear, (f"This is used in the calculation: {wanted.says}.",))


def _on_enter(wanted: Wanted, stands: KnownInputs | None, units: Units) -> Iterator[str]:
    """What Enter alone takes, and how a figure of the job is left out."""
    unit = unit_of_kind(wanted.kind)
    if stands:
        told = value_text(unit, stands.value, units, typed=stands.typed)
        yield f"Press Enter to use {told} ({stands.words})."
        if not wanted.required:
            yield f"Type {LEFT_OUT} to leave it out."
    elif wanted.default is not None:
        yield f"Press Enter to use {value_text(unit, wanted.default, units, typed=True)} (the usual)."
    elif not wanted.required:
        yield "Press Enter to leave it out."


def _worked(
    session: LineSession, calculator: Calculator, texts: dict[str, str], known: dict[str, KnownInputs]
) -> Answer | None:
    out = {name for name, text in texts.items() if text == LEFT_OUT}
    given = {name: text for name, text in texts.items() if text and name not in out}
    try:
        return ask(calculator.name, given, {name: fact.value for name, fact in known.items() if name not in out})
    except Refusal as refusal:
        session.talk.refuse(refusal.message)
        return None


def answer_lines(session: LineSession, answer: Answer) -> list[str]:
    """The whole answer with its working, for the ear."""
    units, library = session.state.units, session.job.library
    verdict = {"pass": "good", "fail": "OUT", "unsure": "UNSURE"}
    return [
        *(spoken(line.label, line.text) for line in sheet.lines(answer, units)),
        *table_lines(answer, units),
        *([verdict[answer.verdict]] if answer.verdict else []),
        *answer.notes,
        *(
            f"Caution: {caution.title}. {caution.do}"
            for caution in filter(None, map(library.cautions.get, answer.cautions))
        ),
        "Working:",
        *sheet.working(answer, units),
        f"Based on: {answer.basis}",
    ]
