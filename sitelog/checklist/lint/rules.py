"""What makes a list good to work from on a scaffold. A rule generates the places where it is broken."""

from collections.abc import Callable, Iterable, Iterator

from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.model import Caution, Condition, Question, Stage
from sitelog.checklist.schema.table import hint
from sitelog.quantities.rounding import as_typed

Rule = Callable[[LintContext], Iterator[Fault]]

MOST_CHECKS = 9
MOST_CAUTIONS = 9
EVIDENCE = (6, 10)
_BARE = {"yes", "no", "y", "n", "ok", "okay", "done", "true", "false", "n/a", "na", "not applicable"}


def ids_are_unique(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        yield from _twice("stage", ((spot, stage.id) for spot, stage in listed.stages()))
        yield from _twice("fact", ((spot, fact.name) for spot, fact in listed.facts()))
        yield from _twice("sum", ((listed.spot.at("sum", n), s.id) for n, s in enumerate(listed.checklist.sums)))
        yield from _twice("member", ((spot, member.id) for spot, member in listed.members()))
        for spot, stage in listed.stages():
            yield from _twice("check", ((spot.at("check", n), c.id) for n, c in enumerate(stage.checks)))
        yield from _twice(
            "trade", ((listed.spot.at("trade", n), t.trade) for n, t in enumerate(listed.checklist.trades))
        )
        for spot, _, check in listed.checks():
            rows = enumerate(check.hands_over_to)
            yield from _twice("trade", ((spot.at("hands_over_to", n), one.trade) for n, one in rows))
            yield from _twice("choice", ((spot.at("choices"), c.id) for c in check.choices if not check.finishes))
            yield from _twice("figure", ((spot.at("figure", n), f.key) for n, f in enumerate(check.figures)))
    for spot, finish in context.finishes.values():
        yield from _twice("fact", ((spot.at("fact", n), f.name) for n, f in enumerate(finish.facts)))


def _twice(what: str, named: Iterable[tuple[Spot, str]]) -> Iterator[Fault]:
    first: dict[str, Spot] = {}
    for spot, name in named:
        if name and name in first:
            yield spot.fault(f"{what} {name} is there already, at line {first[name].line}; give each its own id")
        first.setdefault(name, spot)


def stages_of_a_part_are_unique(context: LintContext) -> Iterator[Fault]:
    taken = {stage.id for _, stage in context.job.stages() if stage.place != "part"} if context.job else set()
    for listed in _parts(context):
        for spot, stage in listed.stages():
            if stage.id and stage.id in taken:
                yield spot.at("id").fault(f"stage {stage.id} is one of the job's too; give it another id")


def _parts(context: LintContext) -> Iterator[Listed]:
    return (listed for listed in context.lists if listed.checklist.form != "job")


def only_the_job_places_stages(context: LintContext) -> Iterator[Fault]:
    for listed in _parts(context):
        for spot, stage in listed.stages():
            if stage.place != "part":
                yield spot.at("place").fault("place is for the job's list alone; take it out")


def stages_are_short(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        for spot, stage in listed.stages():
            if (most := _together(stage)) > MOST_CHECKS:
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
    by_fact = (
        max(sum(not _barred(when, fact, word) for when in conditions) for word in every)
        for fact, every in words.items()
    )
    return min(by_fact, default=len(conditions))


def _barred(when: Condition | None, fact: str, word: str) -> bool:
    """Whether a condition can't hold while the fact is that word."""
    if when is None:
        return False
    false = [
        clause.fact == fact and clause.word in ("is", "in") and (word in clause.values) == clause.negated
        for clause in when.clauses
    ]
    return all(false) if when.any else any(false)


def stages_open_with_evidence(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        for spot, stage in listed.stages():
            if stage.checks and not stage.checks[0].evidence:
                right = "put first what needs a number, a choice or a photo"
                yield spot.at("check", 0).fault(f"stage {stage.id} opens with a bare tick; {right}")


def lists_leave_evidence(context: LintContext) -> Iterator[Fault]:
    part, whole = EVIDENCE
    for listed in context.lists:
        kept = [check.evidence for _, _, check in listed.checks()]
        if sum(kept) * whole < len(kept) * part:
            told = f"{sum(kept)} of {len(kept)} checks leave evidence; at least {part} in {whole} must"
            yield listed.spot.fault(f"{told}: a number, a choice, a sum, a photo or a signature")


def cautions_are_cleared_by_an_answer(context: LintContext) -> Iterator[Fault]:
    for spot, caution in context.cautions.values():
        question, at = caution.question, spot.at("question")
        if question.kind == "choice":
            told = {choice.casefold().strip(" .!") for choice in question.choices}
            if len(told) < 2 or told <= _BARE:
                right = "offer two or more that say something about this job"
                yield at.fault(f"the question of {caution.id} is a bare yes; {right}")
        elif question.choices or (question.stop_on and question.kind == "number"):
            yield at.fault(f"choices and stop_on are for a choice, and this asks a {question.kind}; take them out")
        for word in question.stop_on:
            if question.choices and word not in question.choices:
                yield at.at("stop_on").fault(
                    f"stop_on {word!r} isn't one of the choices; {hint(word, question.choices)}"
                )
        yield from _number_stops(at, question)


def _number_stops(at: Spot, question: Question) -> Iterator[Fault]:
    told = {"stop_from": question.stop_from, "stop_under": question.stop_under}
    for key in (key for key, figure in told.items() if figure is not None):
        if question.kind != "number":
            yield at.at(key).fault(f"{key} is for a number, and this asks a {question.kind}; take it out")
        elif question.readings:
            yield at.at(key).fault(f"{key} belongs to one of the readings; write it there")
    for place, one in enumerate(question.gauges):
        if one.stop_from is not None and one.stop_under is not None and one.stop_under >= one.stop_from:
            spot = at.at("readings", place) if question.readings else at
            yield spot.fault(
                f"no reading is left between stop_under {as_typed(one.stop_under)}"
                f" and stop_from {as_typed(one.stop_from)}"
            )


def cautions_ask_for_several_readings_by_name(context: LintContext) -> Iterator[Fault]:
    for spot, caution in context.cautions.values():
        question, at = caution.question, spot.at("question")
        keys = [one.key for one in question.readings]
        if question.readings and (question.kind != "number" or question.unit):
            yield at.fault("readings are numbers, each with its own unit; ask a number, and take the unit out")
        if len(keys) == 1:
            yield at.at("readings").fault("one reading needs no name; write its unit and stops in the question")
        yield from _twice("reading", ((at.at("readings", n), key) for n, key in enumerate(keys)))
        for place, one in enumerate(question.readings):
            if one.least and one.least not in keys[:place]:
                wrong = f"{one.key} can't have least {one.least}; least must be a reading that comes before it"
                yield at.at("readings", place, "least").fault(wrong)


def one_answer_settles_what_is_asked_alike(context: LintContext) -> Iterator[Fault]:
    first: dict[str, Caution] = {}
    for spot, caution in context.cautions.values():
        other = first.setdefault(caution.subject, caution)
        if _asked(caution.question) != _asked(other.question):
            right = "give both the same kind, choices, readings and units, or another subject"
            at = spot.at("question", "settles") if caution.question.settles else spot.at("question")
            yield at.fault(f"{caution.id} settles {caution.subject}, as {other.id} does; {right}")


def _asked(question: Question) -> tuple[object, ...]:
    return question.kind, question.choices, [(one.key, one.unit) for one in question.gauges]


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
