"""What makes a list good to work from on a scaffold. A rule generates the places where it is broken."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.guidance import Caution, Question
from sitelog.checklist.schema.model import Check, Stage
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Condition
from sitelog.quantities.rounding import as_typed

Rule = Callable[[LintContext], Iterator[Fault]]

MOST_CHECKS = 9
MOST_CAUTIONS = 9
EVIDENCE = (6, 10)
_BARE = {"yes", "no", "y", "n", "ok", "okay", "done", "true", "false", "n/a", "na", "not applicable"}


def ids_are_unique(context: LintContext) -> Iterator[Fault]:
    """Nothing of a list, a stage, a check or a finish has the id of another of its sort."""
    for listed in context.lists:
        yield from _twice_in_list(listed)
    for spot, stage in context.stages():
        yield from _twice("check", _rows(spot, "check", (check.id for check in stage.checks)))
    for spot, _, check in context.checks():
        yield from _twice_in_check(spot, check)
    for spot, finish in context.finishes.values():
        yield from _twice("fact", _rows(spot, "fact", (fact.name for fact in finish.facts)))


def _twice_in_list(listed: Listed) -> Iterator[Fault]:
    yield from _twice("stage", ((spot, stage.id) for spot, stage in listed.stages()))
    yield from _twice("fact", ((spot, fact.name) for spot, fact in listed.facts()))
    yield from _twice("sum", ((spot, run.id) for spot, run in listed.sums()))
    yield from _twice("member", ((spot, member.id) for spot, member in listed.members()))
    yield from _twice("trade", ((spot, trade.trade) for spot, trade in listed.trades()))


def _twice_in_check(spot: Spot, check: Check) -> Iterator[Fault]:
    yield from _twice("trade", _rows(spot, "hands_over_to", (taker.trade for taker in check.hands_over_to)))
    yield from _twice("figure", _rows(spot, "figure", (figure.key for figure in check.figures)))
    if not check.finishes:
        yield from _twice("choice", ((spot.at("choices"), choice.id) for choice in check.choices))


def _rows(spot: Spot, key: str, names: Iterable[str]) -> Iterator[tuple[Spot, str]]:
    """Each name with the spot of its table under that key."""
    return ((spot.at(key, place), name) for place, name in enumerate(names))


def _twice(what: str, named: Iterable[tuple[Spot, str]]) -> Iterator[Fault]:
    first: dict[str, Spot] = {}
    for spot, name in named:
        if name and name in first:
            yield spot.fault(f"{what} {name} is there already, at line {first[name].line}; give each its own id")
        first.setdefault(name, spot)


def stages_of_a_part_are_unique(context: LintContext) -> Iterator[Fault]:
    """A part has no stage of the name of one that the job has before or after all parts."""
    job = context.job.stages() if context.job else ()
    taken = {stage.id for _, stage in job if stage.place != "part"}
    for listed in _parts(context):
        for spot, stage in listed.stages():
            if stage.id and stage.id in taken:
                yield spot.at("id").fault(f"stage {stage.id} is one of the job's too; give it another id")


def _parts(context: LintContext) -> Iterator[Listed]:
    return (listed for listed in context.lists if listed.checklist.form != "job")


def only_the_job_places_stages(context: LintContext) -> Iterator[Fault]:
    """No list but the job's says that a stage comes first or last."""
    for listed in _parts(context):
        for spot, stage in listed.stages():
            if stage.place != "part":
                yield spot.at("place").fault("place is for the job's list alone; take it out")


def stages_are_short(context: LintContext) -> Iterator[Fault]:
    """A stage is one screen of checks at the most, and of cautions no more than are read."""
    for spot, stage in context.stages():
        most = _together(stage)
        if most > MOST_CHECKS:
            more = f"{most} checks; at most {MOST_CHECKS} go on a screen, so make it two stages"
            yield spot.fault(f"stage {stage.id} has {more}")
        if len(stage.cautions) > MOST_CAUTIONS:
            more = f"{len(stage.cautions)} cautions; at most {MOST_CAUTIONS} are read"
            yield spot.at("cautions").fault(f"stage {stage.id} has {more}")


def _together(stage: Stage) -> int:
    """The most checks of a stage that can stand on the screen at once: a choice is never two words."""
    conditions = [check.when for check in stage.checks]
    clauses = [clause for when in conditions if when for clause in when.clauses if clause.word in ("is", "in")]
    words: dict[str, set[str]] = {}
    for clause in clauses:
        words.setdefault(clause.fact, {""}).update(clause.values)  # "" is any word that none of them names
    by_fact = (max(_shown(conditions, fact, word) for word in every) for fact, every in words.items())
    return min(by_fact, default=len(conditions))


def _shown(conditions: Sequence[Condition | None], fact: str, word: str) -> int:
    """How many of the conditions can hold while the fact is that word."""
    return sum(not _barred(when, fact, word) for when in conditions)


def _barred(when: Condition | None, fact: str, word: str) -> bool:
    """Whether a condition can't hold while the fact is that word."""
    if when is None:
        return False
    false = [
        clause.fact == fact and clause.word in ("is", "in") and (word in clause.values) == clause.negated
        for clause in when.clauses
    ]
    if when.any:
        return all(false)
    return any(false)


def stages_open_with_evidence(context: LintContext) -> Iterator[Fault]:
    """The first check of a stage can't be answered from the van: it wants more than a tick."""
    for spot, stage in context.stages():
        if stage.checks and not stage.checks[0].evidence:
            right = "put first what needs a number, a choice or a photo"
            yield spot.at("check", 0).fault(f"stage {stage.id} opens with a bare tick; {right}")


def lists_leave_evidence(context: LintContext) -> Iterator[Fault]:
    """Most checks of a list leave more than somebody's word."""
    part, whole = EVIDENCE
    for listed in context.lists:
        kept = [check.evidence for _, _, check in listed.checks()]
        if sum(kept) * whole < len(kept) * part:
            told = f"{sum(kept)} of {len(kept)} checks leave evidence; at least {part} in {whole} must"
            yield listed.spot.fault(f"{told}: a number, a choice, a sum, a photo or a signature")


def cautions_are_cleared_by_an_answer(context: LintContext) -> Iterator[Fault]:
    """No caution is cleared by a bare yes, and what stops the work suits what is asked."""
    for spot, caution in context.cautions.values():
        question, at = caution.question, spot.at("question")
        if question.kind == "choice" and _bare_yes(question):
            right = "offer two or more that say something about this job"
            yield at.fault(f"the question of {caution.id} is a bare yes; {right}")
        elif question.kind != "choice" and (question.choices or (question.stop_on and question.kind == "number")):
            yield at.fault(f"choices and stop_on are for a choice, and this asks a {question.kind}; take them out")
        if question.choices:
            yield from _choice_stops(at, question)
        yield from _number_stops(at, question)


def _bare_yes(question: Question) -> bool:
    told = {choice.casefold().strip(" .!") for choice in question.choices}
    return len(told) < 2 or told <= _BARE


def _choice_stops(at: Spot, question: Question) -> Iterator[Fault]:
    for word in question.stop_on:
        if word not in question.choices:
            near = hint(word, question.choices)
            yield at.at("stop_on").fault(f"stop_on {word!r} isn't one of the choices; {near}")


def _number_stops(at: Spot, question: Question) -> Iterator[Fault]:
    told = {"stop_from": question.stop_from, "stop_under": question.stop_under}
    for key, figure in told.items():
        if figure is None:
            continue
        if question.kind != "number":
            yield at.at(key).fault(f"{key} is for a number, and this asks a {question.kind}; take it out")
        elif question.readings:
            yield at.at(key).fault(f"{key} belongs to one of the readings; write it there")
    for place, gauge in enumerate(question.gauges):
        low, high = gauge.stop_under, gauge.stop_from
        if low is not None and high is not None and low >= high:
            spot = at.at("readings", place) if question.readings else at
            yield spot.fault(f"no reading is left between stop_under {as_typed(low)} and stop_from {as_typed(high)}")


def cautions_ask_for_several_readings_by_name(context: LintContext) -> Iterator[Fault]:
    """Several readings are numbers, each with a name of its own; what one is never less than comes before it."""
    for spot, caution in context.cautions.values():
        question, at = caution.question, spot.at("question")
        keys = [gauge.key for gauge in question.readings]
        if question.readings and (question.kind != "number" or question.unit):
            yield at.fault("readings are numbers, each with its own unit; ask a number, and take the unit out")
        if len(keys) == 1:
            yield at.at("readings").fault("one reading needs no name; write its unit and stops in the question")
        yield from _twice("reading", _rows(at, "readings", keys))
        for place, gauge in enumerate(question.readings):
            if gauge.least and gauge.least not in keys[:place]:
                wrong = f"{gauge.key} can't have least {gauge.least}; least must be a reading that comes before it"
                yield at.at("readings", place, "least").fault(wrong)


def one_answer_settles_what_is_asked_alike(context: LintContext) -> Iterator[Fault]:
    """Cautions that one answer clears ask the same thing."""
    first: dict[str, Caution] = {}
    for spot, caution in context.cautions.values():
        other = first.setdefault(caution.subject, caution)
        if _asked(caution.question) != _asked(other.question):
            right = "give both the same kind, choices, readings and units, or another subject"
            at = spot.at("question", "settles") if caution.question.settles else spot.at("question")
            yield at.fault(f"{caution.id} settles {caution.subject}, as {other.id} does; {right}")


def _asked(question: Question) -> tuple[object, ...]:
    return question.kind, question.choices, [(gauge.key, gauge.unit) for gauge in question.gauges]


RULES: tuple[Rule, ...] = (
    ids_are_unique,
    stages_of_a_part_are_unique,
    only_the_job_places_stages,
    stages_are_short,
    stages_open_with_evidence,
    lists_leave_evidence,
    cautions_are_cleared_by_an_answer,
    cautions_ask_for_several_readings_by_name,
    one_answer_settles_what_is_asked_alike,
)
