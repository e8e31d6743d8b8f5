"""The rafters of one slope of a building, of one kind and hand, as its cutting list takes them."""

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.calculators.surface.timbers import cut_length, left_of, openings_of, rafters_of
from sitelog.geometry.building.named import Roof
from sitelog.geometry.read_off.rafters import Rafter
from sitelog.geometry.vectors import cos_deg, tan_deg
from sitelog.left_out import given_or
from sitelog.near import closest
from sitelog.refusal import Refusal
from sitelog.text import clean

KINDS = ("common", "hip jack", "valley jack", "cripple", "other")
AT_THE_TOP = ("ridge", "ridge end", "point", "abutment", "step", "break")  # heads where the pattern is tried
HANDS = ("any", "left", "right")
FOOT_ON = {"eaves": "plate", "laid valley": "board"}  # any other foot is cut plumb
SLOPE_RAFTERS = (
    Output("n", "", "No."),
    Output("at", "mm", "Mark at"),
    Output("length", "mm", "Long point to long point"),
    Output("head_cut", "deg", "Head, from square"),
    Output("head_bevel", "deg", "Head's edge, from square"),
    Output("head_tilt", "deg", "Saw tilt at the head"),
    Output("foot_cut", "deg", "Foot, from square"),
    Output("foot_bevel", "deg", "Foot's edge, from square"),
    Output("foot_tilt", "deg", "Saw tilt at the foot"),
    Output("seat", "deg", "Seat, from square"),
    Output("foot_on", "", "Foot on", shown=False),
    Output("cut_off", "mm", "Of its long point, cut off", shown=False),
    Output("hand", "", "Long face", shown=False),
    Output("head_hand", "", "Long point of the head", shown=False),
    Output("foot_hand", "", "Long point of the foot", shown=False),
)


def place_of(roof: Roof, slope: str) -> int:
    """The place of a slope by its id. Refusal for one that isn't there."""
    places = {one.id: one.place for one in roof.of("slopes")}
    if slope not in places:
        near = closest(slope, places)
        raise Refusal(
            f"slope: {clean(slope, most=40)} isn't a slope; {f'did you mean {near}?' if near else ', '.join(places)}"
        )
    return places[slope]


class Tried(Struct, frozen=True):
    """What a pattern that was tried gave of a slope: the pitch to cut at [deg], and its run, longer by `over` [mm]."""

    pitch: float | None = None
    over: float = 0.0


AS_DRAWN = Tried()


def slope_rafter_rows(
    given: ReadInputs, roof: Roof, slope: str, kind: str, hand: str, tried: Tried = AS_DRAWN
) -> list[Row]:
    """A row a rafter: lengths with tail and plumb cuts [mm], cuts [deg]. Refusal for a slope that isn't there."""
    found = rafters_of(given, roof.found, openings_of(given, roof.found), place_of(roof, slope), roof.dormers)
    every = left_of(given, found)
    own = [one for one in every if one.kind == kind and hand in ("any", hand_of(one))]
    pitch = roof.found.slopes[place_of(roof, slope)].pitch
    now = given_or(tried.pitch, pitch)
    return [_row(given, _as_tried(one, pitch, now, tried.over), now, number) for number, one in enumerate(own, 1)]


def _as_tried(rafter: Rafter, pitch: float, now: float, over: float) -> Rafter:
    """The rafter of a slope at `pitch` as it is cut at `now` [deg]: on plan it stays, what runs to the top is longer.

    A jack or a cripple ends at a hip, which stands over the plates' corner: only its pitch is another.
    """
    if now == pitch and not over:
        return rafter
    longer = cos_deg(pitch) / cos_deg(now)
    more = over / cos_deg(now) if rafter.head.kind in AT_THE_TOP else 0.0
    ends = {
        name: replace(end, cut=end.cut.steeper(now - pitch, is_plumb=end.kind != "laid valley"))
        for name, end in (("head", rafter.head), ("foot", rafter.foot))
    }
    return replace(rafter, length=rafter.length * longer + more, most=rafter.most * longer + more, **ends)


def hand_of(rafter: Rafter) -> str:
    """The side that its long point is on, seen along it from its foot: its head's, of a valley jack its foot's.

    Of one with a square head that is no valley jack, that of the more skewed end.
    """
    head, foot = abs(rafter.head.cut.swing), abs(rafter.foot.cut.swing)
    by_head = rafter.kind in ("hip jack", "cripple") or (rafter.kind != "valley jack" and head >= foot)
    return head_hand(rafter) if by_head else foot_hand(rafter)


def head_hand(rafter: Rafter) -> str:
    """The side that the long point of its head is on: that where what it meets is further up."""
    return "right" if rafter.head.cut.swing > 0 else "left"


def foot_hand(rafter: Rafter) -> str:
    """The side that the long point of its foot is on: that where what it stands on is further down."""
    return "right" if rafter.foot.cut.swing < 0 else "left"


def _row(given: ReadInputs, rafter: Rafter, pitch: float, number: int) -> Row:
    ends = abs(rafter.head.cut.swing) + abs(rafter.foot.cut.swing)  # long point to long point, on whatever faces
    on_centre = cut_length(given, rafter)
    longest = on_centre + ends * (given.section.thickness if given.section else 0.0) / 2
    whole, longest = longest, max(min(longest, rafter.most), on_centre)  # near a corner another line cuts it off
    past = given.section.depth * tan_deg(pitch) if given.section and rafter.foot.kind != "laid valley" else 0.0
    tail = given.overhang / cos_deg(pitch) if rafter.foot.kind == "eaves" else 0.0
    head, foot = rafter.head.cut, rafter.foot.cut
    return {
        "n": number,
        "at": rafter.at,
        "length": longest + tail + past,
        "head_cut": head.side_from_square,
        "head_bevel": head.edge_from_square,
        "head_tilt": head.saw_tilt,
        "foot_cut": foot.side_from_square,
        "foot_bevel": foot.edge_from_square,
        "foot_tilt": foot.saw_tilt,
        "seat": 90 - pitch if rafter.foot.kind == "eaves" else 0.0,
        "foot_on": FOOT_ON.get(rafter.foot.kind, "plumb"),
        "cut_off": whole - longest,
        "hand": hand_of(rafter),
        "head_hand": head_hand(rafter),
        "foot_hand": foot_hand(rafter),
    }
