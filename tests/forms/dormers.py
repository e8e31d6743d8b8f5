"""A curved head and an eyebrow, invented for the demo: as drawn, and what a tape, a level and an eye read of them."""

from collections.abc import Mapping

from tests.reports.site import Site

# Radius (900^2 + 600^2) / 1200 = 975; the ribs are struck 18 inside it, at 957.
BARREL = {
    "width": "1800",
    "rise": "600",
    "cheek": "700",
    "pitch": "42",
    "opening_width": "1150",
    "opening_depth": "1500",
    "deck": "18",
    "design_mass": "25.4",
}
EYEBROW = {
    "width": "3000",
    "rise": "600",
    "pitch": "58",
    "opening_width": "1150",
    "opening_depth": "900",
    "deck": "18",
    "design_mass": "64",
}
OPENING: dict[str, Mapping[str, str]] = {
    "opening.size": {"width": "1150", "length": "2018", "first": "2323", "second": "2323"},
    "opening.doubled": {"left": "2", "right": "2"},
    "opening.head": {"value": "0"},
}
# Heights and lengths up the slope are by hand, Pythagoras on the ribs' radii, as a tape would read them: 957 under the
# barrel; 1069.5 in the eyebrow's crown and 1105.5 in its wings, which are 1087.5 outside.
COMMON: dict[str, Mapping[str, str]] = OPENING | {
    "line.faces": {"value": "1"},
    "ribs.batten": {"value": "1"},
    "ribs.spacing": {"value": "400"},
    "ribs.plumb": {"value": "1"},
    "ribs.noggins": {"value": "25"},
    "line.set-out": {"first": "100", "thickness": "47"},
    "line.fair": {"value": "1"},
    "line.lay-board": {"value": "240"},
    "closing.fall-80": {"value": "1:60"},
    "closing.air": {"space": "60", "left": "25", "right": "25"},
    "deck.fixings": {"edge": "140", "field": "280"},
    "deck.moisture": {"value": "15"},
    "next.apron": {"up": "150", "down": "180"},
    "next.fixed-points": {"sill": "1800", "crown": "3900"},
}
READ_BARREL: dict[str, Mapping[str, str]] = COMMON | {
    "make-up.curve": {"value": "ribs"},
    "make-up.sheet": {"value": "18"},
    "template.turned": {"value": "1"},
    "finish.deck": {"all": "18", "layer": "9"},
    "finish.roll": {"value": "45"},
    "finish.bay": {"bay": "1500", "most": "2000", "who": "K. Moss, leadworker"},
    "cheeks.levels": {"readings": "1401,1402,1401,1402,1401,1401"},
    "cheeks.square": {"left": "1895", "right": "1896"},
    "cheeks.plumb": {"left": "1", "right": "-1"},
    "template.heights": {"readings": "371,534,582,534,371"},
    "template.tried": {"left": "0", "right": "1"},
    "template.flush": {"deck": "1800", "cheeks": "1799"},
    "ribs.crown-line": {"offsets": "0,1,1,0", "length": "1366"},
    "line.points": {"readings": "554,798,870,798,554"},
    "next.cheeks": {"left_height": "630", "left_slope": "942", "right_height": "631", "right_slope": "941"},
}
# The same head on two formers: bearers of 47 x 75, flush, square to the curve.
READ_FORMERS: dict[str, Mapping[str, str]] = {
    name: texts for name, texts in READ_BARREL.items() if name.partition(".")[0] not in ("template", "ribs")
} | {
    "make-up.curve": {"value": "formers"},
    "make-up.stance": {"value": "square"},
    "make-up.formers": {"count": "2", "depth": "170", "board": "300", "thickness": "22"},
    "make-up.bearers": {"thickness": "47", "depth": "75", "spacing": "450", "noggins": "2"},
    "formers.heights": READ_BARREL["template.heights"],
    "formers.slots": {"place": "1", "depth": "1"},
    "formers.alike": {"value": "1"},
    "formers.tried": {"left": "0", "right": "1"},
    "formers.flush": READ_BARREL["template.flush"],
    "standing.plumb": {"value": "1"},
    "bearers.first": {"slot": "0", "over": "0", "slope": "1"},
    "standing.apart": {"left": "650", "crown": "651", "right": "650"},
    "bearers.crowns": {"value": "up"},
    "bearers.tops": {"along": "1", "across": "1"},
    "bearers.noggins": {"bearing": "25", "missing": "0"},
}
# The same with its ceiling open into the main roof, a bulkhead round it.
READ_OPEN: dict[str, Mapping[str, str]] = READ_FORMERS | {
    "make-up.ceiling": {"value": "bulkhead"},
    "soffit.layers": {"frame": "170", "lining": "15", "trimmer": "47", "count": "2"},
}
READ_EYEBROW: dict[str, Mapping[str, str]] = COMMON | {
    "finish.sheet": {"value": "18"},
    "template.turned": {"value": "1"},
    "finish.flattest": {"run": "850"},
    "finish.deck": {"all": "18", "layer": "9", "roll": "0"},
    "opening.size": {"width": "1150", "length": "1698", "first": "2051", "second": "2051"},
    "face.ends": {"ends": "3000", "half": "1500"},
    "face.levels": {"readings": "1401,1402,1401"},
    "face.clear": {"value": "950"},
    "face.centres": {"value": "380"},
    "face.between": {"left": "190", "right": "191"},
    "face.plumb": {"value": "1"},
    "template.heights": {"readings": "23.5,159,398,539,582,539,398,159,23.5"},
    "template.tried": {"left": "0", "right": "1"},
    "ribs.crown-line": {"offsets": "0,1,1,0", "length": "375"},
    "ribs.climb": {"value": "42"},
    "line.points": {"readings": "27.7,187.5,469,636,686,636,469,187.5,27.7"},
    "closing.air": {"space": "60", "face": "25", "back": "50"},
    "battens.gauge": {"least": "940", "most": "970"},
    "battens.pitches": {"flattest": "42", "main": "58"},
    "battens.follow": {"value": "1"},
    "battens.fair": {"value": "2"},
    "battens.moisture": {"value": "17"},
}


def dormer(
    form: str, lining: str, stop: str, *, on_formers: bool = False, open_ceiling: bool = False, **more: str
) -> Site:
    """A dormer of that form and lining with everything before `stop` done and good."""
    drawn, read = (BARREL, READ_BARREL) if form == "barrel-dormer" else (EYEBROW, READ_EYEBROW)
    site = Site(parts=[("dormer", "Dormer", form, drawn | more)])
    if on_formers:
        read = READ_OPEN if open_ceiling else READ_FORMERS
    given = {f"dormer.{name}": dict(texts) for name, texts in read.items()}
    site.up_to(f"dormer.{stop}", given | {"dormer.finish.lining": {"value": lining}})
    return site
