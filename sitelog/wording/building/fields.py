"""The form of each kind of block: its fields, what each wants and what is usual in it."""

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.building.placing import sides_of
from sitelog.geometry.building.said import (
    BAY,
    COLLARS,
    DORMER,
    LEAN_TO,
    MAIN,
    PURLINS,
    SIDES,
    SPROCKETS,
    WING,
    BlockRefusal,
    Said,
)
from sitelog.geometry.building.words import LEAST, BlockWords
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import length_mm, offset_mm
from sitelog.quantities.rounding import to_type_again

EIGHT = "octagon"  # the main roof with eight or six sides, as a kind of its own
COVERS = "slope, gable, against, half-hip 1200, mansard 70 2000 30, or its own pitch"
MAIN_SIDES = ("AB", "BC", "CD", "DA")
KINDS_TO_ADD = {
    WING: "Wing",
    BAY: "Bay",
    LEAN_TO: "Lean-to",
    DORMER: "Dormer, pitched",
    SPROCKETS: "Sprockets at the eaves",
    PURLINS: "Purlins",
    COLLARS: "Collars",
}
KINDS_TO_BEGIN = {MAIN: "Main roof, four sides", EIGHT: "Main roof, octagon or hexagon"}


class Wanted(Struct, frozen=True):
    """One field: `says` is what it wants, `usual` what a blank one is taken as, `reads` the kind of its figure.

    `needed` can't be blank; a blank `rest` takes the usual for it and for all after it.
    """

    key: str
    label: str
    says: str
    usual: str = ""
    reads: str = ""
    needed: bool = False
    rest: bool = False


def wanted(kind: str, every: Mapping[str, Said], typed: Mapping[str, str]) -> tuple[Wanted, ...]:
    """The fields of a kind over a building; what is usual in one may follow from what is typed in another."""
    return tuple(_FORMS[kind](_Over(every, typed)))


def answered(fields: Sequence[Wanted], typed: Mapping[str, str]) -> dict[str, str]:
    """What each field holds, the usual where it is blank; blanks inside a figure are left out."""
    return {field.key: typed.get(field.key, "").strip() or field.usual for field in fields}


def check(field: Wanted, block: str, text: str) -> None:
    """Refusal, by the block's name, for what one field holds that can't be a figure of its kind; or is missing."""
    if not text and field.needed:
        raise BlockRefusal(block, f"its {field.label} is missing. {field.says}", field.key)
    if not text or not field.reads:
        return
    try:
        _READS[field.reads](BlockWords(block, MAIN, [as_word(text)]), field.label)
    except BlockRefusal as refusal:
        raise BlockRefusal(block, refusal.what, field.key) from None


def field_about(kind: str, about: str) -> str:
    """The field that a refusal of the block is about, "" where it is none of its form's."""
    if kind == EIGHT and len(about) == 2:
        return "covers"
    if kind == EIGHT and about == "size":
        return "across"
    renamed = {"size": "length" if kind == MAIN else "width", "height": "heights", "shape": "shape"}
    return renamed.get(about, about)


def as_word(text: str) -> str:
    """A figure as one word, without its blanks; a length in inches and a fraction in mm."""
    words = text.split()
    if len(words) < 2 or "/" not in words[-1]:
        return "".join(words)
    try:
        return to_type_again(length_mm(text))
    except Doubt:
        return "".join(words)


# --- the fields of each kind --------------------------------------------------------------------------------------


_READS: dict[str, Callable[[BlockWords, str], float]] = {
    "length": lambda words, what: words.length(what, least=LEAST),
    "distance": lambda words, what: words.length(what, least=0.0),
    "level": lambda words, what: words.length(what, offset_mm),
    "pitch": lambda words, what: words.pitch(what),
}


class _Over:
    """The building that a form is filled in over, and what is typed in it so far."""

    def __init__(self, every: Mapping[str, Said], typed: Mapping[str, str]) -> None:
        self.main = every.get(MAIN)
        self.sides = {side: ends for said in every.values() for side, ends in sides_of(said).items()}
        self.typed = typed

    @property
    def pitch(self) -> str:
        """The main roof's, which is usual for what is built on to it."""
        return to_type_again(self.main.pitch) if self.main else ""

    def placed(self, likely: str, what: str) -> list[Wanted]:
        """Off which side, how far from which corner."""
        side = likely if likely in self.sides else next(iter(self.sides), "")
        known = {name.lower(): ends for name, ends in self.sides.items()}
        ends = known.get(self.typed.get("side", "").strip().lower()) or self.sides.get(side, ("", ""))
        return [
            Wanted(
                "side",
                "off side" if what == "Off" else "on slope",
                f"{what} which side? {', '.join(self.sides)}.",
                side,
            ),
            Wanted("distance", "distance", "How far from a corner of that side? 0 is flush with it.", "0", "distance"),
            Wanted("corner", "from corner", f"From which corner? {' or '.join(ends)}.", ends[0]),
        ]

    def cover(self, name: str, usual: str = "slope", of: str = COVERS) -> Wanted:
        """What stands on a side."""
        return Wanted(name, f"side {name}" if name.isupper() else name, f"What is its {name}? {of}.", usual)


def _size(key: str, label: str, says: str) -> Wanted:
    return Wanted(key, label, f"{says}, over the plates, such as 4000 or 4m.", reads="length", needed=True)


PITCH = Wanted("pitch", "pitch", "Pitch of its slopes, such as 40 or 8/12.", reads="pitch", needed=True)
PLATE = Wanted("plate", "plate height", "Its plates over the main plates, such as 0, 600 or -900.", "0", "level")


def _pitch(over: _Over) -> Wanted:
    return replace(PITCH, usual=over.pitch)


def _main(over: _Over) -> list[Wanted]:
    sizes = [_size("length", "length AB", "Length along AB"), _size("width", "width BC", "Width along BC")]
    first, *others = map(over.cover, MAIN_SIDES)
    return [*sizes, PITCH, replace(first, says=f"Press Enter for hips all round. {first.says}", rest=True), *others]


def _octagon(over: _Over) -> list[Wanted]:
    return [
        Wanted("shape", "shape", "octagon or hexagon.", EIGHT),
        _size("across", "across", "From side to side"),
        PITCH,
        Wanted("covers", "other sides", "Sides that aren't slopes, such as BC gable. Blank if there are none."),
    ]


def _wing(over: _Over) -> list[Wanted]:
    left, end, right = (over.cover(side) for side in SIDES)
    sizes = [_size("width", "width", "Width along that side"), _size("out", "projection", "How far it comes out")]
    return [*over.placed("CD", "Off"), *sizes, end, _pitch(over), left, right, PLATE]


def _bay(over: _Over) -> list[Wanted]:
    return [
        *over.placed("AB", "Off"),
        _size("width", "width", "Width along that side"),
        _size("out", "projection", "How far it comes out"),
        _pitch(over),
        Wanted("splay", "splay", "Angle of its splays to the wall, 20 to 80.", "45"),
        Wanted("ridge", "ridge", "climbs, as its splays run on, or level.", "climbs"),
        PLATE,
    ]


def _lean_to(over: _Over) -> list[Wanted]:
    return [
        *over.placed("BC", "Off"),
        _size("width", "width", "Width along that side"),
        _size("out", "projection", "How far it comes out"),
        Wanted("pitch", "pitch", "Its pitch, such as 15. Blank if you give its top.", reads="pitch"),
        Wanted("top", "top height", "Its top over the main plates. Blank if you gave its pitch.", reads="level"),
        PLATE,
    ]


def _dormer(over: _Over) -> list[Wanted]:
    return [
        *over.placed("AB", "On the slope of"),
        _size("width", "width", "Width of its face"),
        Wanted("out", "face in", "How far in from the plate is its face, level?", reads="length", needed=True),
        _pitch(over),
        Wanted(
            "cheek", "cheek height", "How high are its plates over the slope, at its face?", reads="length", needed=True
        ),
        over.cover("end", "gable", "gable, hip, or the hip's own pitch"),
    ]


def _sprockets(over: _Over) -> list[Wanted]:
    return [
        Wanted(
            "length", "length", "How far in from the plate they run, level, such as 600.", reads="length", needed=True
        ),
        Wanted("pitch", "pitch", "Their pitch, flatter than the slopes, such as 25.", reads="pitch", needed=True),
    ]


def _heights(over: _Over) -> list[Wanted]:
    says = "Heights over the main plates, such as 1500, or 1500 2600 for two rows."
    return [Wanted("heights", "heights", says, needed=True)]


_FORMS: dict[str, Callable[[_Over], list[Wanted]]] = {
    MAIN: _main,
    EIGHT: _octagon,
    WING: _wing,
    BAY: _bay,
    LEAN_TO: _lean_to,
    DORMER: _dormer,
    SPROCKETS: _sprockets,
    PURLINS: _heights,
    COLLARS: _heights,
}
