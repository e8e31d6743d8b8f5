"""Answers and their drawings, and their points, lines and words picked out."""

import math
import shlex

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.index import find
from sitelog.drawing.index import drawings_of
from sitelog.drawing.model import Drawing, Point, Stroke

DORMERED = (
    "A 0,0; B 9000,0; C 9000,6000; D 0,6000; P 3500,900; Q 5500,900; R 5500,3000; S 3500,3000;"
    "main AB 45, BC gable, CD 45, DA 45; dormer PQ gable, QR 40 +1800, CD 45, SP 40 +1800"
)
U_SHAPE = (
    "A 0,0; B 14000,0; C 14000,9000; D 10000,9000; E 10000,5000; F 3600,5000; G 3600,8000; H 0,8000;"
    "loop AB 38, BC 38, CD 38, DE 38, EF 38, FG 38, GH 38, HA 38"
)

# What each calculator is drawn from: its own example, and a case that differs where one is not enough.
CASES: tuple[tuple[str, str], ...] = (
    ("squareness", ""),
    ("corner", ""),
    ("corner", "first=6000 second=4200 across=8400"),
    ("roof", ""),
    ("surface", ""),
    ("surface", f"plan='{DORMERED}' spacing=600 gauge=345 overhang=300 openings='CD 2000,500 780x1180'"),
    ("surface", f"plan='{U_SHAPE}'"),
    ("building", ""),
    ("ridge", ""),
    ("ridge", "length=9000 width=6000 pitch=35 hips=1"),
    ("ridge", "length=9000 width=6000 pitch=35 hips=0"),
    ("flat-top", ""),
    ("flat-top", "ab=9000 bc=6000 cd=9010 da=6005 ac=10830 bd=10812 pitch=35 pitch_bc=40 rise=1400"),
    ("flat-top", "length=8400 width=6600 pitch=45 pitch_bc=60 run=1200 floor=300 finish=20 lining=40 section=47x200"),
    ("common", ""),
    ("birdsmouth", ""),
    ("hip", ""),
    ("hip", "corner=100 pitch=35 pitch2=40 run=3000"),
    ("hip-foot", ""),
    (
        "hip-foot",
        "corner=100 pitch=35 pitch2=40 thickness=63 common_height_above_plate=110 overhang=300 dummy_run=600",
    ),
    ("hip-foot", "corner=135 pitch=38 pitch2=42 thickness=94"),
    ("valley", ""),
    ("jacks", ""),
    ("jacks", "pitch=35 spacing=600 run=3000 side=2 past=500"),
    ("jacks", "pitch=35 spacing=400 run=3000 on=valley"),
    ("sticks", ""),
    ("sticks", "pitch=35 run=3000 ridge=38mm overhang=300"),
    (
        "sticks",
        "kind=hip pitch=35 run=3000 common_height_above_plate=122 overhang=300 head=hollow heel=clipped zero=tail",
    ),
    (
        "sticks",
        "kind=hip corner=100 pitch=35 pitch2=40 run=3000 common_height_above_plate=122 overhang=300 nick=20"
        " jacks=400,800,1200,1600,2000 jacks2=400,800,1200",
    ),
    ("sticks", "kind=jack pitch=35 pitch2=40 side=2 at=900 overhang=300 nick=20"),
    ("sticks", "kind=valley pitch=35 run=3000 common_height_above_plate=122 overhang=300"),
    ("sticks", "kind=valley-board pitch=40 pitch2=35 run=2000 overhang=300"),
    ("sticks", "kind=jack on=laid pitch=35 pitch2=40 run=2000 at=600 ridge=38mm section=47x100"),
    ("sticks", "kind=cripple pitch=35 at=3000 between=2400"),
    ("sticks", "kind=straight length=3000 bevel=45"),
    ("sticks", "kind=ridge section=38x225 length=3046 marks=23,423,823,1223,1623,2023,2423,2823,3023"),
    ("sticks", "kind=purlin pitch=35 length=3000"),
    ("sticks", "kind=firring section=47x150 length=3600 thin=20 thick=110 bevel=45"),
    ("sticks", "kind=rib radius=900 rib_depth=75"),
    ("sticks", "kind=scarf section=47x220"),
    (
        "sticks",
        "kind=firring zero=tail section=47x75 length=1782.15 thin=20 thick=64.55 left=1762.2 middle=1782.11"
        " right=1781.89 turn_across=-3.99 turn_along=1782.15 bevel=45.63 bevel2=0.54",
    ),
    (
        "sticks",
        "kind=firring zero=tail section=75x75 length=2530 thin=20 thick=64 left=2457 middle=2494 right=2530 bevel=44.73"
        " bevel2=43.83 tail_bevel=44.37 point_back=36.7",
    ),
    ("opening", ""),
    ("opening", "pitch=40 level_width=1153 level_depth=1800 spacing=400"),
    ("scarf", ""),
    ("scarf", "depth=150 nib=38mm wedge=18 thickness=75 taper=1:10 ratio=4 screw=splay"),
    ("arc", ""),
    ("barrel", ""),
    ("barrel", "chord=2400 rise=600 pitch=50 spacing=200"),
    ("eyebrow", ""),
    ("eyebrow", "width=3000 rise=600 pitch=35 spacing=250 deck=18 inside=60 below=180"),
    ("rib", ""),
    ("rib", "radius=1500 depth=120 board=200 arc=106"),
    ("ordinates", ""),
    ("slope-marks", ""),
    ("formers", ""),
    ("formers", "chord=1800 rise=450 sheet=12 stance=plumb former=160 spacing=400 pitch=35 face=250 board=320"),
    ("formers", "chord=2400 rise=500 sheet=12 bearer=47x100 slot=45 joint=proud former=200 count=6 end=120"),
    ("soffit", ""),
    ("soffit", "chord=1800 rise=450 sheet=12 former=75 lining=12.5 pitch=22.5 rafter=200 stance=plumb meet=top"),
    ("bulkhead", ""),
    ("bulkhead", "chord=2400 rise=900 sheet=18 former=75 lining=15 pitch=50 rafter=150 steps=3 layers=1"),
    ("firrings", ""),
    ("firrings", "span=3600 fall=1:40 thin=20 length=5000"),
    ("hipped-falls", ""),
    ("hipped-falls", "length=3000 width=4200 fall=1:60 thin=20 spacing=600"),
    ("hipped-falls", "ab=6000 bc=3490 cd=6331 da=3601 ac=7154 bd=7064 fall=1:40 thin=20 spacing=600"),
    ("gutter", ""),
)


def answer_of(name: str, words: str = "") -> Answer:
    pairs = shlex.split(words or find(name).example)
    return ask(name, dict(pair.split("=", 1) for pair in pairs), {})


def drawn(name: str, words: str = "") -> tuple[Answer, tuple[Drawing, ...]]:
    answer = answer_of(name, words)
    return answer, drawings_of(answer)


def points(drawing: Drawing, *strokes: Stroke) -> list[Point]:
    return [at for line in drawing.lines if not strokes or line.stroke in strokes for at in line.points]


def has(drawing: Drawing, x: float, y: float, *strokes: Stroke, within: float = 1e-6) -> bool:
    """True where a point of the drawing is there, to a fraction of what any tape reads."""
    return any(math.dist((x, y), at) <= within for at in points(drawing, *strokes))


def has_line(drawing: Drawing, start: Point, end: Point, *strokes: Stroke, within: float = 1e-6) -> bool:
    """True where a straight piece of the drawing runs between the two points, either way."""
    pieces = (
        (a, b)
        for line in drawing.lines
        if not strokes or line.stroke in strokes
        for a, b in zip(line.run, line.run[1:], strict=False)
    )
    return any(
        max(math.dist(start, a), math.dist(end, b)) <= within or max(math.dist(start, b), math.dist(end, a)) <= within
        for a, b in pieces
    )
