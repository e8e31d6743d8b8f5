"""The small grammar of a checklist once it is read: what a value comes from, and when something holds."""

from typing import Literal

from msgspec import Struct


class Term(Struct, frozen=True):
    """One term of an operand: a fact (`@ab`, `@job.site`), a figure of its check (`=head`), or a value."""

    kind: Literal["fact", "figure", "value"]
    name: str = ""
    value: float | str = 0.0
    awaited: bool = True  # whether a cutting list waits for it to be measured, if it can be


class Operand(Struct, frozen=True):
    """A value in the closed grammar of the checklists: `@ab`, `half @width`, `minus @hip_a =head =foot`.

    `thickness @section` and `depth @section` take a section apart, `section @thickness @depth` makes one. `ties` holds
    taped lengths together, each term with its two points (`A-B`) for its value; `laid` the blocks of valleys that are
    laid, each term with its block; and `carried` what is taped so far of lean-tos and dormers, each term with the
    block and which of its sizes it is (`lean-to left`). No list says any of them.
    """

    word: Literal["is", "half", "hypot", "minus", "plus", "thickness", "depth", "section", "ties", "laid", "carried"]
    terms: tuple[Term, ...]


class Clause(Struct, frozen=True):
    """`fact is value`, `fact in a b c`, `fact over 25`, `fact under 25`; `negated` for `not`."""

    fact: str
    word: Literal["is", "in", "over", "under"]
    values: tuple[str, ...]
    negated: bool = False


class Condition(Struct, frozen=True):
    """All clauses (`and`), or any (`or`); the two are not mixed."""

    clauses: tuple[Clause, ...]
    any: bool = False
