"""What a check of each kind must have, and can't have: keys, figures, units, limits."""

from collections.abc import Iterator, Mapping

from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import unit_fault
from sitelog.checklist.schema.model import Check, Limit, Source
from sitelog.checklist.schema.table import hint
from sitelog.quantities.rounding import as_typed

# Keys that only some kinds of check can have.
BELONGS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("figure", "drawn", "unit", "optional", "exact"), ("measure",)),
    **dict.fromkeys(("choices", "finishes"), ("choice",)),
    **dict.fromkeys(("calculator", "inputs", "shows", "limit", "three_ways"), ("measure", "calculate")),
    "gives": ("measure",),
    "read_with": ("measure",),
    "sets": ("measure", "choice", "note"),
}
OF_FIGURES = {"drawn", "unit", "optional", "exact", "sets"}  # on the figures, where a check has tables of them
# What an answer keeps beside its figures, under these keys in the job file; what begins with @ can't be a figure's.
ITS_OWN: Mapping[str, str] = {
    "value": "a choice, words or its one figure",
    "photo": "the name of a photo",
    "photos": "its photos",
}


def keys_suit_the_kind(context: LintContext) -> Iterator[Fault]:
    """A check has no key that its kind does nothing with, nor one that belongs to its figures."""
    for spot, _, check in context.checks():
        table = _table(spot)
        for key, kinds in BELONGS.items():
            if key in table and check.kind not in kinds:
                right = f"take it out or make this a {' or '.join(kinds)}"
                yield spot.at(key).fault(f"{key} can't be on a {check.kind}; {right}")
        if check.kind == "measure" and isinstance(table.get("figure"), list):
            for key in table.keys() & OF_FIGURES:
                yield spot.at(key).fault(f"{key} belongs in the tables of the figures, not on the check")


def _table(spot: Spot) -> Mapping[str, object]:
    """The raw table at a spot, for the rules on keys that the model does not hold."""
    inner: object = spot.document.data
    for key in spot.place:
        inner = inner[key]  # type: ignore[index]
    if not isinstance(inner, dict):
        return {}
    return inner


def kinds_have_what_they_need(context: LintContext) -> Iterator[Fault]:
    """A choice has choices, a measure figures, a calculate its calculator, and three ways out a limit to be out of."""
    for spot, _, check in context.checks():
        missing = _missing(check)
        if missing:
            yield spot.fault(missing)
        if check.three_ways and not (check.limit or check.calculator):
            yield spot.at("three_ways").fault("three_ways without a limit; give the limit that can be broken")


def _without_choices(check: Check) -> str:
    """What a choice lacks: finishes for its use, or two choices of its own."""
    if not check.finishes and len(check.choices) < 2:
        return f"a choice with {len(check.choices) or 'no'} choices; give choices, two or more, or finishes"
    if check.finishes and not check.choices:
        return f"no finish is for {check.finishes}; see the finishes' own for"
    return ""


def _missing(check: Check) -> str:
    if check.kind == "choice":
        return _without_choices(check)
    if check.kind == "measure" and not check.figures:
        return "a measure without a figure; give figure tables, or the figure's kind"
    if check.kind == "calculate" and not check.calculator:
        return "a calculate without a calculator; name the calculator that it runs"
    return ""


def figures_are_numbers(context: LintContext) -> Iterator[Fault]:
    """Words only where they name who agreed a figure, or what says otherwise than its limit."""
    for spot, _, check, figure in context.figures():
        if figure.kind == "choice" or (figure.kind == "text" and figure.key not in _named(check)):
            right = "a measure takes numbers, and words only to name who says a figure"
            yield spot.fault(f"the figure {figure.key} is a {figure.kind}; {right}")
        yield from _says_who(spot.at("agreed_by"), check, figure.agreed_by)
        if figure.limit:
            yield from _says_who(spot.at("limit", "unless"), check, figure.limit.unless)


def _says_who(spot: Spot, check: Check, name: str) -> Iterator[Fault]:
    """The figure that names who says another one is there, and takes words."""
    told = check.figure(name)
    if name and (told is None or told.kind != "text"):
        known = [figure.key for figure in check.figures if figure.kind == "text"]
        yield spot.fault(f"no figure {name} of this check is words; {hint(name, known)}")


def _named(check: Check) -> set[str]:
    """The figures that name who says another one."""
    limits = [figure.limit for figure in check.figures if figure.limit]
    return {figure.agreed_by for figure in check.figures} | {limit.unless for limit in limits}


def figures_leave_an_answer_its_own_keys(context: LintContext) -> Iterator[Fault]:
    """No figure is called what an answer keeps something else under in the job file."""
    for spot, _, check in context.checks():
        if not isinstance(_table(spot).get("figure"), list):
            continue
        for place, figure in enumerate(check.figures):
            if figure.key in ITS_OWN and not (figure.key == "value" and place == 0):
                own = f"is where an answer keeps {ITS_OWN[figure.key]}"
                at = spot.at("figure", place).at("key")
                yield at.fault(f"the key {figure.key} {own}; call the figure by what is measured")


def units_fit(context: LintContext) -> Iterator[Fault]:
    """A fact or figure has the unit of its kind, and a question in words has none."""
    told = [(spot, fact.kind, fact.unit) for spot, fact in context.facts()]
    told += [(spot, figure.kind, figure.unit) for spot, _, _, figure in context.figures()]
    for spot, kind, unit in told:
        wrong = unit_fault(kind, unit)
        if wrong:
            yield spot.at("unit").fault(wrong)
    for spot, caution in context.cautions.values():
        question = caution.question
        if question.unit and question.kind != "number":
            yield spot.at("question", "unit").fault(f"a {question.kind} doesn't have a unit; take it out")


def limits_say_where_they_come_from(context: LintContext) -> Iterator[Fault]:
    """A limit claims no more than its source: none rests on memory, and published is what was read."""
    for listed in context.lists:
        for spot, limit in listed.limits():
            source = listed.checklist.sources.get(limit.source)
            if source:
                yield from _claims(spot, limit, source)
            yield from _amount(spot, limit)


def _claims(spot: Spot, limit: Limit, source: Source) -> Iterator[Fault]:
    if source.how == "memory":
        right = "it can guide but never fail a check, so find it published or take the limit out"
        yield spot.at("source").fault(f"the limit's source {source.id} is from memory; {right}")
    if source.how == "judgement" and limit.origin != "house":
        right = f"an origin of {limit.origin} needs a source that was read"
        yield spot.at("origin").fault(f"the limit's source {source.id} is a judgement; {right}, so say house")
    if source.how in ("second hand", "derived") and limit.origin == "published":
        right = "published needs a source that was read and has that figure, so say borrowed"
        yield spot.at("origin").fault(f"the limit's source {source.id} is {source.how}; {right}")


def _amount(spot: Spot, limit: Limit) -> Iterator[Fault]:
    if limit.rule == "within" and limit.amount is not None and limit.amount <= 0 and "amount" in _table(spot):
        yield spot.at("amount").fault(f"a limit within {as_typed(limit.amount)} can't be kept; give an amount over 0")


RULES: tuple[Rule, ...] = (
    keys_suit_the_kind,
    kinds_have_what_they_need,
    figures_are_numbers,
    figures_leave_an_answer_its_own_keys,
    units_fit,
    limits_say_where_they_come_from,
)
