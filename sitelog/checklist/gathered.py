"""What holds several facts together: plates as taped, the blocks that are laid, what is taped of lean-tos."""

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from sitelog.calculators.surface.patterns import KINDS, Pattern
from sitelog.checklist.schema.model import Checklist, FactSpec
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.checklist.scoped import CARRIED, LAID, OF_CARRIED, fact_name, of_words, scope_of
from sitelog.geometry.building.named import Named


def gathered(listed: Checklist, fact: FactSpec, named: Sequence[Named]) -> Operand | None:
    """What a fact that gathers is worked from: taped lengths, which valleys are laid, or what is taped of blocks."""
    if fact.name == CARRIED:
        return Operand("carried", tuple(_sizes(listed, fact, named)))
    each = next((other.each for other in listed.facts if other.name == fact.gathers), ())
    make = _laid if fact.name == LAID else _ties
    return make(fact.gathers, list(of_words(named, each)), named)


def _ties(name: str, sides: Sequence[Named], _: Sequence[Named]) -> Operand | None:
    terms = (Term("fact", fact_name(name, scope_of(one)), "-".join(one.between)) for one in sides)
    return Operand("ties", tuple(terms)) if sides else None


def _laid(name: str, valleys: Sequence[Named], _: Sequence[Named]) -> Operand:
    """What is said of each valley of a wing, a bay or a dormer."""
    return Operand("laid", tuple(Term("fact", fact_name(name, scope_of(one)), one.block) for one in valleys))


def gathered_for(listed: Checklist, fact: FactSpec, named: Sequence[Named], one: Named) -> Operand:
    """The same of one line, slope or block: what is taped of the lean-tos and dormers that it is of, or that are on it.

    It waits for those of its own block alone: a main slope is cut before a dormer on it is built.
    """
    near = one.blocks or (one.block,)
    terms = _sizes(listed, fact, [each for each in named if each.id in near])
    return Operand("carried", tuple(replace(term, awaited=_block_of(term) == one.block) for term in terms))


def of_pattern(fact: FactSpec, patterns: Sequence[Pattern]) -> str:
    """The fact that this one is there: of its three, that of the pattern which the slope is cut to.

    Of a line that of its second slope where the fact's name ends in `_2`, else of its first.
    """
    pattern = patterns[-1 if fact.name.endswith("_2") else 0]
    return fact_name(fact.gathers.split()[KINDS.index(pattern.kind)], scope_of(pattern.slope))


def _block_of(term: Term) -> str:
    return str(term.value).partition(" ")[0]


def _sizes(listed: Checklist, fact: FactSpec, named: Sequence[Named]) -> Iterator[Term]:
    each = {other.name: other.each for other in listed.facts}
    for name in fact.gathers.split():
        for one in of_words(named, each.get(name, ())):
            yield Term("fact", fact_name(name, scope_of(one)), f"{one.id} {name.removeprefix(OF_CARRIED)}")
