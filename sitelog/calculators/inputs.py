"""What a calculator is given: a typed struct whose fields say kind, limits and words, and refuse what can't be."""

import keyword
import math
from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Self, TypedDict, TypeVar, Unpack, dataclass_transform, overload

from msgspec import Struct
from msgspec.structs import replace

from sitelog.quantities.quantity import Cut, Item, Kind, Price, Section, Tie, Value
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

# Inclusive limits by kind, before an input's own. 200 m is longer than any roof a gang pitches by hand.
LIMITS: dict[Kind, tuple[float, float]] = {
    "length": (0.0, 200_000.0),
    "offset": (-200_000.0, 200_000.0),
    "lengths": (0.0, 200_000.0),
    "offsets": (-200_000.0, 200_000.0),
    "angle": (0.0, 360.0),
    "count": (0, 10_000),
    "number": (-1e9, 1e9),
    "fraction": (0.0, 1.0),
    "share": (0.0, 200_000.0),
    "fall": (0.0, 1.0),
    "section": (0.0, 2_000.0),
    "ties": (0.0, 200_000.0),
    "cuts": (0.0, 200_000.0),
    "prices": (0.0, 1e9),
}
# What is over nought whatever an input says: a pitch, a side of timber, a length between two points, a price.
OVER_NOUGHT = ("pitch", "section", "ties", "cuts", "prices")
MOST_ROWS = 2_000

Default = TypeVar("Default")


class Input(Struct, frozen=True):
    """One input of a calculator. `low` and `high` are inclusive; `over` and `under` are exclusive."""

    name: str
    kind: Kind
    says: str
    default: Value = None
    optional: bool = False
    low: float | None = None
    high: float | None = None
    over: float | None = None
    under: float | None = None
    choices: tuple[str, ...] = ()
    unit: str = ""
    unsaid: str = ""  # what a check gives for it while nobody has said

    @property
    def required(self) -> bool:
        """Whether a person must give it: it has no default, and can't be left out."""
        return self.default is None and not self.optional

    @property
    def attribute(self) -> str:
        """Its name in Python, where `class` can't be one."""
        if keyword.iskeyword(self.name):
            return f"{self.name}_"
        return self.name

    def check(self, calculator: str, value: Value) -> None:
        """Refusal, in the calculator's name, for a value outside what this input takes."""
        if self.kind == "choice" and value not in self.choices:
            raise Refusal(f"{calculator}: {self.name} is {value!r}; it must be one of {', '.join(self.choices)}")
        numbers = value if isinstance(value, tuple) else (value,)
        if len(numbers) > MOST_ROWS:
            raise Refusal(f"{calculator}: {self.name} has {len(numbers)} figures; give at most {MOST_ROWS}")
        for number in numbers:
            for called, figure in _figures(self.name, number):
                self._check_number(calculator, called, figure)

    def _check_number(self, calculator: str, called: str, number: float) -> None:
        for holds, rule in self._rules(number):
            if not holds:
                raise Refusal(f"{calculator}: {called} is {as_typed(number)}; it {rule}")

    def _rules(self, number: float) -> Iterator[tuple[bool, str]]:
        """Whether the number keeps to each limit, and how the limit is told; the first broken one is what to say."""
        kind_low, kind_high = LIMITS.get(self.kind, (-math.inf, math.inf))
        low = kind_low if self.low is None else self.low
        high = kind_high if self.high is None else self.high
        yield math.isfinite(number), "must be a finite number"
        if self.kind == "count":
            yield number % 1 == 0, "must be a whole number"
        yield number >= low, f"must be at least {as_typed(low)}"
        yield number <= high, f"must be at most {as_typed(high)}"
        over, under = self._open_limits
        if over is not None:
            yield number > over, f"must be over {as_typed(over)}"
        if under is not None:
            yield number < under, f"must be under {as_typed(under)}"

    @property
    def _open_limits(self) -> tuple[float | None, float | None]:
        """What a number must be over and under, by this input or by its kind."""
        over = 0.0 if self.over is None and self.kind in OVER_NOUGHT else self.over
        under = 90.0 if self.under is None and self.kind == "pitch" else self.under
        return over, under


def _figures(name: str, value: Value | Item) -> tuple[tuple[str, float], ...]:
    """The figures of a value that its limits are held to, and what each is called."""
    match value:
        case Section():
            return (f"{name}'s thickness", value.thickness), (f"{name}'s depth", value.depth)
        case Tie():
            return ((f"{name}, {value.start}-{value.end},", value.length),)
        case Cut(section, length, number) | Price(section, length, number):
            last = "count" if isinstance(value, Cut) else "price"
            said = f"{name}, {section},"
            return *_figures(said, section), (f"{said} length", length), (f"{said} {last}", number)
        case int() | float():
            return ((name, float(value)),)
    return ()


class Limits(TypedDict, total=False):
    """What a field may say of its values beside their kind, as `Input` has it."""

    low: float
    high: float
    over: float
    under: float
    choices: tuple[str, ...]
    unit: str
    unsaid: str


@overload
def field(kind: Kind, says: str, **limits: Unpack[Limits]) -> Any: ...
@overload
def field(kind: Kind, says: str, *, default: Default, **limits: Unpack[Limits]) -> Default: ...
def field(kind: Kind, says: str, **about: Any) -> Any:
    """A field of Inputs: its kind, its words, its limits; `default=None` for one that may be left out."""
    optional = "default" in about and about["default"] is None
    return Input("", kind, says, optional=optional, **about)


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(field,))
class Inputs:
    """What a calculator is given, in mm, degrees, kg and counts. A calculator's own is a class of fields:

        class LadderInputs(Inputs):
            height: float = field("length", "ground to landing", over=0)

    Fields come in the order of the bases and then of the class; one that is told again keeps its place. A field that
    ends in `_` is given without it (`class_` for `class`).
    """

    rows: ClassVar[tuple[Input, ...]] = ()

    def __init_subclass__(cls) -> None:
        rows = {row.attribute: row for base in cls.__bases__ for row in getattr(base, "rows", ())}
        for name, value in [*vars(cls).items()]:
            if isinstance(value, Input):
                rows[name] = replace(value, name=name.rstrip("_"))
                delattr(cls, name)  # so that what was never given can't be taken for a value
        cls.rows = tuple(rows.values())

    def __init__(self, **values: Any) -> None:
        taken = {row.attribute: row.default for row in self.rows if not row.required}
        vars(self).update(taken | values)

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} can't be changed")

    @classmethod
    def filled(cls, calculator: str, given: Mapping[str, Value]) -> Self:
        """The inputs with their defaults; Refusal, in the calculator's name, for one unknown, missing or impossible."""
        named = {name.rstrip("_"): value for name, value in given.items()}
        for name in named:
            cls.row(calculator, name)
        values: dict[str, Value] = {}
        for row in cls.rows:
            value = named.get(row.name)
            if value is None:
                value = row.default
            if value is None and row.required:
                raise Refusal(f"{calculator} needs {row.name}: {row.says}. Add {row.name}=")
            if value is not None:
                row.check(calculator, value)
            values[row.attribute] = int(value) if row.kind == "count" and isinstance(value, float) else value
        return cls(**values)

    @classmethod
    def row(cls, calculator: str, name: str) -> Input:
        """The input of that name; Refusal, in the calculator's name, if there is none."""
        for row in cls.rows:
            if row.name == name:
                return row
        names = ", ".join(row.name for row in cls.rows)
        raise Refusal(f"{calculator} doesn't have a figure called {name!r}; choose from: {names}")

    def given(self) -> dict[str, Value]:
        """What was given or taken by default, by the names that a person types; what was left out is not there."""
        found = {row.name: vars(self)[row.attribute] for row in self.rows}
        return {name: value for name, value in found.items() if value is not None}
