"""A fact of a part as it is shown, and what people gave for it."""

from collections.abc import Mapping
from typing import Any, Literal, get_args

from msgspec import Struct, field

from sitelog.calculators.catalogue import Value
from sitelog.quantities.quantity import Kind
from sitelog.quantities.slips import Usual

# What a figure is meant to be by: a drawing, or what follows from it; the list's own figure; a finish's in print, or
# from memory.
Whence = Literal["drawn", "usual", "published", "memory"]
MEANT: Mapping[Whence, str] = {whence: whence for whence in get_args(Whence)} | {"memory": "from memory"}
AS_MEANT: Mapping[Whence, str] = {whence: f"as {whence}" for whence in get_args(Whence)} | {"memory": "from memory"}


class Fact(Struct, frozen=True):
    """A named figure or choice of a part. `now` is what later sums read: built where there is one, else drawn."""

    name: str  # "main.ab"
    says: str
    unit: str
    kind: Kind
    drawn: Value
    built: Value
    set_by: str = ""  # path of the check that measured it, or the id of the sum that worked it
    at: str = ""
    choices: tuple[str, ...] = ()
    least: str = ""  # the design figure of its part that it is never less than
    asked: bool = False  # entered when the part is set up, as drawn
    drawable: bool = False  # a drawing may give it: it follows from no other fact, and no finish brings it
    setters: tuple[str, ...] = ()  # paths of the checks that can set it
    rests_on: frozenset[str] = frozenset()  # paths of the checks whose answers it comes from, near or far
    measured: bool = False  # a tape stands somewhere under it; False for a choice or a figure off the drawing
    refusal: str = ""  # why the sum that gives it can't be worked as the facts stand
    drawn_typed: bool = False  # somebody gave the drawn figure as it is shown: no sum gave it
    built_typed: bool = False
    usual: Usual | None = None  # as the list says; else as slips.py has it
    whence: Whence = "drawn"  # what the drawn figure is by
    unagreed: bool = False  # it comes from a finish's figure that judges nothing until somebody agrees it by name
    who: str = ""  # who agreed it, or what document says it

    @property
    def key(self) -> tuple[str, str]:
        """Its part and its own name."""
        part, _, name = self.name.partition(".")
        return part, name

    @property
    def now(self) -> Value:
        """The figure that sums read: as built where something was measured or chosen, else as drawn; mm or degrees."""
        if self.built is None:
            return self.drawn
        return self.built

    @property
    def typed(self) -> bool:
        """Whether what it is now is a figure that somebody gave, to be shown with every digit."""
        if self.built is None:
            return self.drawn_typed
        return self.built_typed

    @property
    def origin(self) -> Literal["drawn", "usual", "built", "none"]:
        """Where the figure of now is from; "usual" is the list's own where no drawing gives one."""
        if self.built is not None:
            return "built"
        if self.drawn is None:
            return "none"
        return "usual" if self.whence == "usual" else "drawn"


class Setting(Struct, frozen=True):
    """What one answer sets a fact to."""

    path: str  # the check
    id: str  # the answer's entry
    value: Value
    at: str
    measured: bool  # off a tape; False for a choice or words
    brought: bool = False  # a chosen finish brings it: what a check sets of its own comes before it
    agreed: bool = True  # False while it waits for somebody's word
    who: str = ""  # who agreed it, or what document of the maker's says it
    whence: Whence = "drawn"  # of what a finish brings, whether it was published or is from memory


class Inputs(Struct, frozen=True):
    """What people gave for facts, by (part, fact): design figures as kept (plain), and what answers set."""

    drawn: Mapping[tuple[str, str], Any]
    set: Mapping[tuple[str, str], tuple[Setting, ...]]
    chosen: Mapping[str, str] = field(default_factory=dict)  # path of a check -> the finish that it chose
    usual: frozenset[tuple[str, str]] = frozenset()  # the design figures that are as the list has them
