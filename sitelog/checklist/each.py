"""A list with `each` in it, written out for one roof: a check for each hip, a stage for each valley, and so on.

In what stands for each line, a fact whose name begins `line_` is that line's own (`line_length` of Valley CD-EF is
`valley_cd_ef_length`), and the step `line` of a result's path is its row; `block_` and `block` are its block's.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from itertools import groupby
from typing import Any, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.surface.patterns import Pattern, patterns_of
from sitelog.checklist.gathered import gathered, gathered_for, of_pattern
from sitelog.checklist.schema.members import MemberSpec, Shown, Taken
from sitelog.checklist.schema.model import Check, Checklist, FactSpec, Figure, Stage, Sum
from sitelog.checklist.schema.terms import Clause, Operand, Term
from sitelog.checklist.scoped import BLOCKS, OF_PATTERN, Scope, called, fact_name, of_words, scope_of
from sitelog.geometry.building.named import Named, Roof
from sitelog.text import goes_on

MOST_CHECKS = 9  # of a stage

T = TypeVar("T", bound=Struct)


def expanded(listed: Checklist, roof: Roof | None) -> Checklist:
    """The list for one roof; for a roof that isn't known yet, without all that stands for each of something."""
    named = roof.named if roof else ()
    patterns = patterns_of(roof) if roof else {}
    return replace(
        listed,
        stages=tuple(_stages(listed, named)),
        facts=tuple(_facts(listed, named, patterns)),
        sums=tuple(_each_of(listed.sums, named, _sum)),
        members=tuple(_each_of(listed.members, named, partial(_member, listed, patterns))),
    )


# --- what a copy stands for ---------------------------------------------------------------------------------------


def _each_of(rows: Iterable[T], named: Sequence[Named], make: Any) -> Iterator[T]:
    """Each row, or its copies."""
    for row in rows:
        words: tuple[str, ...] = row.each  # type: ignore[attr-defined]
        if not words:
            yield row
        for one in of_words(named, words):
            yield make(_filled(row, scope_of(one)), one)


def _filled(value: Any, scope: Scope) -> Any:
    """The same with every name of a fact and every path of a result as the scope has them."""
    if isinstance(value, Struct):
        return _filled_struct(value, scope)
    if isinstance(value, tuple):
        return tuple(_filled(item, scope) for item in value)
    if isinstance(value, Mapping):
        return {name: _filled(item, scope) for name, item in value.items()}
    return value


def _filled_struct(value: Struct, scope: Scope) -> Struct:
    if isinstance(value, Term):
        return _filled_term(value, scope)
    if isinstance(value, Clause):
        return replace(value, fact=fact_name(value.fact, scope))
    if isinstance(value, Taken):
        return replace(value, path=_path(value.path, scope), operand=_filled(value.operand, scope))
    if isinstance(value, Shown):
        return replace(value, of=_path(value.of, scope), when=_filled(value.when, scope))
    return replace(value, **{name: _field(name, getattr(value, name), scope) for name in value.__struct_fields__})


def _filled_term(term: Term, scope: Scope) -> Term:
    """A fact's name; or the text `line` or `block` that stands for the id."""
    if term.kind == "fact":
        return replace(term, name=fact_name(term.name, scope))
    own = {"line": scope.line, "block": scope.block}.get(str(term.value))
    return replace(term, value=own) if own and term.kind == "value" else term


def _field(name: str, value: Any, scope: Scope) -> Any:
    if name == "sets" and isinstance(value, str):
        return fact_name(value, scope)
    if name == "gives":
        return {fact_name(fact, scope): _path(path, scope) for fact, path in value.items()}
    if name == "shows" and value and isinstance(value[0], str):
        return tuple(_path(path, scope) for path in value)
    return _filled(value, scope)


def _path(path: str, scope: Scope) -> str:
    own = {"line": scope.line or "line", "block": scope.block}
    return ".".join(own.get(step, step) for step in path.split("."))


def _short(named: Named) -> str:
    """Its name without its kind: AB-CD of Hip AB-CD."""
    return named.name.partition(" ")[2] if named.each[-1] in ("lines", "gables") else named.name


# --- facts, sums and members --------------------------------------------------------------------------------------


Patterns = Mapping[str, tuple[Pattern, ...]]


def _facts(listed: Checklist, named: Sequence[Named], patterns: Patterns) -> Iterator[FactSpec]:
    together = {name for fact in listed.facts for name in fact.gathers.split()}
    for fact in listed.facts:
        if fact.gathers and not fact.each:
            yield replace(fact, worked=gathered(listed, fact, named))
        elif not fact.each:
            yield fact
        for one in of_words(named, fact.each):
            filled = _filled(fact, scope_of(one))
            says = f"{called(one)}: {goes_on(fact.says)}" if fact.name not in together else f"{one.name}, {fact.says}"
            worked = _gathered_for(listed, fact, named, one, patterns) if fact.gathers else filled.worked
            yield replace(filled, name=fact_name(fact.name, scope_of(one)), says=says, worked=worked, each=())


def _gathered_for(listed: Checklist, fact: FactSpec, named: Sequence[Named], one: Named, patterns: Patterns) -> Operand:
    if fact.name.startswith(OF_PATTERN):
        return Operand("is", (Term("fact", of_pattern(fact, patterns[one.id])),))
    return gathered_for(listed, fact, named, one)


def _sum(filled: Sum, one: Named) -> Sum:
    return replace(filled, id=f"{one.id}-{filled.id}", each=(), of=called(one))


def _member(listed: Checklist, patterns: Patterns, filled: MemberSpec, one: Named) -> MemberSpec:
    tried, *after = (_tried(told, one, listed, patterns) for told in (filled.tried, *filled.after))
    own = replace(filled, tried=tried, after=tuple(dict.fromkeys(after)), each=())
    return replace(own, id=f"{filled.id}-{one.id}", says=f"{filled.says} {_short(one)}")


def _tried(told: str, one: Named, listed: Checklist, patterns: Patterns) -> str:
    """The check where the first is tried: that of the line or of its block, where there is one for each.

    Of a fact of the pattern, as `@line_cut_pitch`, the fact that it is there.
    """
    if told.startswith("@"):
        fact = next(fact for fact in listed.facts if fact.name == told[1:])
        return f"@{of_pattern(fact, patterns[one.id])}"
    by_id = {stage.id: stage for stage in listed.stages}
    stage, _, rest = told.partition(".")
    if stage not in by_id:
        return told
    check = by_id[stage].check(rest)
    if check and set(check.each) & set(one.each):
        told = f"{stage}.{one.id}-{rest}"
    return next(_needs(told, scope_of(one), by_id[stage], by_id))


# --- stages -------------------------------------------------------------------------------------------------------


def _stages(listed: Checklist, named: Sequence[Named]) -> Iterator[Stage]:
    """Stages that stand next to each other and have `each` are gone through block by block."""
    by_id = {stage.id: stage for stage in listed.stages}
    for has, group in groupby(listed.stages, key=lambda stage: bool(stage.each)):
        together = list(group)
        alone = (_with_checks(stage, None, named, by_id) for stage in together)
        for parted in _by_block(together, named, by_id) if has else alone:
            yield from _shared_out(parted)


def _by_block(stages: Sequence[Stage], named: Sequence[Named], by_id: Mapping[str, Stage]) -> Iterator["Parted"]:
    for block in (one for word in BLOCKS for one in named if word in one.each):
        own = [one for one in named if one.block == block.id]
        for stage in stages:
            for one in of_words(own, stage.each):
                yield _copied(stage, one, own, by_id)


def _copied(stage: Stage, one: Named, own: Sequence[Named], by_id: Mapping[str, Stage]) -> "Parted":
    """A stage for a block or a line, with its checks."""
    scope = scope_of(one)
    filled: Stage = _filled(replace(stage, checks=()), scope)
    name = one.id if scope.is_block else goes_on(one.name)
    titled = replace(
        filled,
        id=stage_id(stage.id, one),
        title=f"{one.name}: {goes_on(stage.title)}",
        short=f"{name} {stage.short}" if scope.is_block else name,
        checks=stage.checks,
        each=(),
    )
    return _with_checks(titled, scope, own, by_id)


def stage_id(own: str, one: Named) -> str:
    """`wing-ridge` for the ridge of a wing; `valley-cd-ef` for the stage `valley` of a valley."""
    return one.id if re.match(rf"{own}(-|\d*$)", one.id) else f"{one.id}-{own}"


Parted = tuple[Stage, list[list[Check]]]  # a stage, and its checks in groups that stay together


def _with_checks(stage: Stage, scope: Scope | None, own: Sequence[Named], by_id: Mapping[str, Stage]) -> Parted:
    """The stage's checks, those of each line together. Checks that stand next to each other go line by line."""
    groups: list[list[Check]] = []
    for words, run in groupby(stage.checks, key=lambda check: check.each):
        checks = list(run)
        if not words:
            groups += [[_asked(check, scope, own, stage, by_id)] for check in checks]
        for one in of_words(own, words):
            inner = scope_of(one)
            groups.append([_named(_asked(check, inner, own, stage, by_id), one) for check in checks])
    return stage, groups


def _asked(check: Check, scope: Scope | None, own: Sequence[Named], stage: Stage, by_id: Mapping[str, Stage]) -> Check:
    """The check in its scope, its figures written out for each line that they stand for."""
    figures = tuple(_figures(check, own))
    filled: Check = _filled(replace(check, figures=figures), scope) if scope else replace(check, figures=figures)
    needs = tuple(need for told in check.needs for need in _needs(told, scope, stage, by_id))
    return replace(filled, needs=needs, each=(), of=scope.named.name if scope else "")


def _figures(check: Check, own: Sequence[Named]) -> Iterator[Figure]:
    for figure in check.figures:
        if not figure.each:
            yield figure
        for one in of_words(own, figure.each):
            filled = _filled(figure, scope_of(one))
            yield replace(filled, key=one.id.replace("-", "_"), says=f"{figure.says} {one.name}".strip(), each=())


def _named(check: Check, one: Named) -> Check:
    ask = f"{called(one)}: {goes_on(check.ask)}"
    figures = tuple(replace(figure, says=ask) if figure.says == check.ask else figure for figure in check.figures)
    return replace(check, id=f"{one.id}-{check.id}", ask=ask, figures=figures, of="")


def _needs(told: str, scope: Scope | None, stage: Stage, by_id: Mapping[str, Stage]) -> Iterator[str]:
    """What must come first: of a stage that comes once for each block, that of every block it lies between."""
    first, dot, rest = told.partition(".")
    if not dot:
        beside = stage.check(told)
        yield f"{scope.line}-{told}" if beside and beside.each and scope else told
    elif first in by_id and by_id[first].each and scope:
        yield from (f"{owner}-{first}.{rest}" for owner in scope.owners)
    else:
        yield told


def _shared_out(parted: Parted) -> Iterator[Stage]:
    """The stage, or several where it has more checks than one should have; none without a check."""
    stage, groups = parted
    parts: list[list[Check]] = []
    for group in groups:
        if not parts or len(parts[-1]) + len(group) > MOST_CHECKS:
            parts.append([])
        parts[-1] += group
    for place, checks in enumerate(parts, 1):
        if place == 1:
            yield replace(stage, checks=tuple(checks))
        else:
            more = f"{stage.short} {place}" if stage.short else ""
            title = f"{stage.title} ({place})"
            yield replace(stage, id=f"{stage.id}-{place}", title=title, short=more, checks=tuple(checks))
