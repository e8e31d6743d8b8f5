"""What two houses' days are made of: the drawing, what tape and level give, and the words that people say.

All of it is invented. A figure that stands here for neither house is read as it is worked out, a millimetre or a tenth
of a degree off.
"""

from collections.abc import Mapping
from dataclasses import dataclass

Read = Mapping[str, Mapping[str, str]]  # by stage.check, then by figure


@dataclass(frozen=True)
class House:
    """`chosen` are numbers of choices, the first where none is named; `wrong` is read before it is put right.

    `misread` is a choice that is undone at once; `noted` the check at which a note is added.
    """

    design: Mapping[str, str]
    read: Read
    wrong: Read
    words: Mapping[str, str]
    cautions: Mapping[str, str]
    chosen: Mapping[str, int]
    misread: tuple[str, int]
    noted: tuple[str, str]


COMMON: Read = {
    "before.scaffold": {"rail": "1010", "gap": "440"},
    "before.moisture": {"value": "17"},
    "finish.headlap": {"value": "80", "length": "", "width": "", "who": ""},
    "finish.pitch": {"least": "25", "gauge": "210", "who": ""},
    "plates.levels": {"readings": "1402,1403,1401,1402,1404,1403,1402,1402"},
    "plates.straps": {"spacing": "1790", "fixing": "120"},
    "plates.laps": {"value": "5"},
    "first-pair.sizes": {"rafter": "46", "hip": "47", "ridge": "38"},
    "first-pair.pattern": {
        "ab": "0",
        "cd": "0",
        "gap_top": "0",
        "gap_bottom": "0",
        "heel": "0",
        "cut_length": "",
        "cut_pitch": "",
    },
    "first-pair.ridge-depth": {"depth": "220"},
    "first-pair.twist": {"fall_foot": "1", "fall_head": "0"},
    "first-pair.stood": {"plumb": "2"},
    "ridge.ridge-line": {"offsets": "0,1,2,1,0"},
    "ridge.ridge-ends": {"fall": "1"},
    "ridge.plane": {"value": "2"},
    "hip-lines.meeting": {"p": "1", "q": "2"},
    "hips.straight": {"a": "1", "b": "2", "c": "0", "d": "1"},
    "jacks.cover": {"value": "12"},
    "jacks.plane": {"a": "1", "b": "2", "c": "1", "d": "0"},
    "jacks.resight": {"a": "2", "b": "2", "c": "1", "d": "1"},
    "restraint.straps": {"spacing": "1800", "crossed": "3", "turned": "120"},
    "restraint.notches": {"value": "0"},
    "restraint.damage": {"value": "0"},
    "eaves.gaps": {"gap": "25", "high": "5", "path": "55"},
    "handover.braces": {"value": "0"},
    "handover.stacked": {"value": "6"},
    **{f"hip-lines.line-{corner}": {"offsets": "0,1,2,0"} for corner in "abcd"},
    **{f"eaves.fascia-{side}": {"offsets": "0,1,2,0"} for side in ("ab", "bc", "cd", "da")},
}

ORCHARD = House(
    design={
        "title": "Orchard House",
        "place": "Mill Lane, plot 4",
        "by": "D. Hale",
        "1.length": "9300",
        "1.width": "6400",
        "1.pitch": "35",
        "1.design_mass": "32",
    },
    read={
        **COMMON,
        "plates.sides": {"ab": "9302", "bc": "6401", "cd": "9299", "da": "6399", "ac": "11291", "bd": "11288"},
        "finish.mass": {"value": "33"},
        "eaves.height-double": {"tile": "6", "hang": "470"},
        "tiler.diagonals": {"aq": "7697", "bp": "7695", "cp": "7696", "dq": "7698"},
    },
    wrong={"plates.levels": {"readings": "1402,1403,1401,1402,1411,1403,1402,1402"}},
    words={
        "before.drawings": "A-110 rev C, SE-04 rev B, nailing schedule SE-07",
        "before.stamps": "0412",
        "finish.boards": "19 mm ply boards at hips, lead rolls to A-114",
        "finish.agreed": "P. Yates, Yates Roofing, 20 Nov, A-114 rev B",
        "plates.ties": "0415",
        "first-pair.braced": "1",
        "ridge.tied": "0421",
        "hips.fixed": "0426",
        "jacks.paired": "0430",
        "restraint.bracing": "0433",
        "restraint.fixings": "3 no. 3.75 x 90 each joint, clips at plate, SE-07",
        "restraint.inspector": "J. Pratt, 24 Nov, content with straps and bracing",
        "tiler.underlay": "Vapour open underlay, 50 x 25 battens, A-114",
        "tiler.points": "No kicks or valleys; tails of AB trimmed to line",
        "handover.photos": "0440",
        "handover.access": "Drop the top lift 300; the scaffolder on Monday",
        "handover.left": "Loft hatch lining, D. Hale, by Friday",
        "handover.walked": "P. Yates",
    },
    cautions={
        "scaffold": "2",
        "weather-wind": "8 12",
        "load-both-sides": "over the plates, both slopes",
        "people-below": "south path fenced, crew only",
        "part-built": "two raking braces to the first pair",
        "hot-work": "T. Marsh",
    },
    chosen={"finish.covering": 2},
    misread=("plates.hip-loads", 2),
    noted=("plates.sides", "Bed low at corner C, mason to pack it on Friday"),
)

LONG_BARN = House(
    design={
        "title": "Long Barn",
        "place": "Fen Road, by the ford",
        "by": "R. Oakes",
        "1.length": "11400",
        "1.width": "7200",
        "1.pitch": "40",
        "1.design_mass": "32",
    },
    read={
        **COMMON,
        "plates.sides": {"ab": "11401", "bc": "7198", "cd": "11402", "da": "7200", "ac": "13484", "bd": "13482"},
        "finish.mass": {"value": "31"},
        "eaves.height-double": {"tile": "6", "hang": "470"},
        "tiler.diagonals": {"aq": "9569", "bp": "9567", "cp": "9570", "dq": "9568"},
    },
    wrong={"first-pair.stood": {"plumb": "14"}},
    words={
        **ORCHARD.words,
        "before.drawings": "L-02 rev A, engineer's sheets 11 to 14 rev D",
        "finish.agreed": "S. Birch, slater, 18 Nov, drawing L-09",
        "handover.walked": "S. Birch",
        "handover.left": "Soffit vents at BC, R. Oakes, on Tuesday",
    },
    cautions={**ORCHARD.cautions, "hot-work": "E. Wynn", "people-below": "yard side taped, slaters' labourer only"},
    chosen={"finish.covering": 2},
    misread=("restraint.temporary", 2),
    noted=("ridge.tied", "Two nails added at the pair over the stair well"),
)
