"""A made-up figure that shows how a check's is typed: of its own size, and never what was drawn or what would pass.

Nobody is given an answer to copy. What other programs are shown may be right instead: see examples.py.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from sitelog.checklist.schema.model import Figure, Limit
from sitelog.job.state.verdicts import against, numbers, uncertainty_of
from sitelog.job.state.views import CheckView
from sitelog.quantities.quantity import Kind, example, read
from sitelog.quantities.rounding import as_typed
from sitelog.quantities.slips import range_of, usual
from sitelog.text import text_if

# Plain lengths [mm], with one of about that size in feet and inches.
LENGTHS = {
    2: "1/16in", 3: "1/8in", 5: "3/16in", 6: "1/4in", 12: "1/2in", 18: "11/16in", 20: "13/16in", 25: "1in",
    38: "1 1/2in", 47: "1 7/8in", 50: "2in", 60: "2 3/8in", 75: "3in", 100: "4in", 125: "5in", 150: "6in", 200: "8in",
    225: "9in", 300: "12in", 400: "16in", 500: "20in", 600: "2'", 750: "2'6\"", 900: "3'", 1200: "4'", 1500: "5'",
    1800: "6'", 2400: "8'", 3000: "10'", 3600: "11'10\"", 4800: "15'9\"", 6000: "20'", 7500: "24'8\"",
    9000: "29'6\"", 12000: "40'", 15000: "50'", 18000: "60'", 24000: "80'", 36000: "120'",
}  # fmt: skip
PITCHES = {15: 3, 20: 4, 30: 7, 40: 10, 50: 14, 60: 21}  # degrees, with a rise on 12 of about that pitch
FALLS = (40, 60, 80, 100)  # run for one down
PLAIN = (1, 2, 3, 4, 5, 6, 8)  # and these by ten, a hundred, a tenth, ...
OUT = (0, 12, -9, 15, -18)  # [mm], over and over: points that no check passes together
NEAR = 0.1  # of what is meant: so near it an example might be taken for it

# A plain figure of each range of slips.py, and of names that have none there or a narrower one: mm, of rain l/s per m2
# and m2. Made up, to be replaced.
OFTEN = {"span": 3600, "reach": 600, "size": 47, "spacing": 400, "station": 300, "stock": 4800, "piece": 3600}
OF_NAME = {
    "floor_up": 2600, "purlin_longest": 6000, "strut_spacing": 1800, "purlin_splice": 600, "former_board": 225,
    "former_depth": 150, "bearer_depth": 75, "bearer_thickness": 47, "former_thickness": 18, "ceiling_frame": 150,
    "ceiling_lining": 15, "slope_sheet": 18, "valley_thickness": 47, "height-double.tile": 12, "height-single.tile": 12,
    "hang": 240, "first": 300, "apart": 2400, "left_height": 900, "right_height": 900, "left_slope": 1800,
    "layer": 9, "rainfall": 0.02, "roof_area": 24, "right_slope": 1800, "between.left": 400,
    "doubled.lap": 600, "fixed-points.crown": 1200, "fixed-points.sill": 900,
    "struck.back": 3600, "struck.rafter": 3600, "struck.table": 2400, "stud.length": 1500, "boards.gap": 3,
    "fixings.edge": 150, "fixings.field": 300, "gaps.wall": 12, "pitch.gauge": 300,
}  # fmt: skip
SMALL = 50  # mm: what slips.py has no range for is small by nature


def made_up(view: CheckView, figure: Figure) -> str:
    """What may be typed for one figure, as a hint says it, such as `400 or 16in`; "" where its kind alone says it."""
    say = _SAYS.get(figure.kind)
    return say(view, figure) if say else ""


def one_made_up(view: CheckView, figure: Figure) -> str:
    """The first of them, as it is typed on a command: `400`."""
    return made_up(view, figure).split(" ")[0].rstrip(",") or example(figure.kind)


def _length(view: CheckView, figure: Figure) -> str:
    mm = _first(LENGTHS, view, figure)
    if mm is None:
        return ""
    if mm not in LENGTHS:
        return f"{as_typed(mm)} or {as_typed(mm / 1000)}m"
    metres = text_if(mm >= 1000, f", {as_typed(mm / 1000)}m")
    return f"{as_typed(mm)}{metres} or {LENGTHS[round(mm)]}"


def _offset(view: CheckView, figure: Figure) -> str:
    """One of each sign, that which isn't good first; nothing where no size is known."""
    signed = [mm * sign for mm in LENGTHS for sign in (1, -1)]
    mm = _first(signed, view, figure) if _size(view, figure) else None
    if mm is None:
        return ""
    inches = LENGTHS.get(round(abs(mm)), f"{as_typed(abs(mm))}mm")
    return f"{as_typed(mm)}, {as_typed(-mm)} or -{inches}"


def _offsets(view: CheckView, figure: Figure) -> str:
    """One for each point, where the check says which."""
    points = next((given.value for given in view.inputs if given.name == "points"), None)
    many = points.count(",") + 1 if isinstance(points, str) and points else 4
    return ",".join(str(OUT[at % len(OUT)]) for at in range(many))


def _pitch(view: CheckView, figure: Figure) -> str:
    degrees = _first(PITCHES, view, figure, else_size=35.0)
    if not degrees:
        return ""
    if degrees not in PITCHES:
        return f"{as_typed(degrees)} or {as_typed(degrees)}deg"
    return f"{as_typed(degrees)}, {as_typed(degrees)}.5deg, or rise to run as {PITCHES[round(degrees)]}/12"


def _fall(view: CheckView, figure: Figure) -> str:
    fall = _first((1 / run for run in FALLS), view, figure, else_size=1 / 60)
    return f"1:{as_typed(round(1 / fall))}" if fall else ""


def _number(view: CheckView, figure: Figure) -> str:
    """Of a count or a plain number; one that is nothing yet keeps what its kind shows."""
    if _size(view, figure) is None:
        return ""
    least = 0 if figure.kind == "count" else -3
    found = _first((plain * 10**power for power in range(least, 5) for plain in PLAIN), view, figure)
    return as_typed(found) if found else ""


_SAYS: dict[str, Callable[[CheckView, Figure], str]] = {
    "length": _length,
    "offset": _offset,
    "lengths": lambda view, figure: "150,300,450",
    "offsets": _offsets,
    "pitch": _pitch,
    "fall": _fall,
    "count": _number,
    "number": _number,
}


def _first(sizes: Iterable[float], view: CheckView, figure: Figure, else_size: float = 1.0) -> float | None:
    """The nearest to the figure's size that is usual for it and isn't good; where all are good, the nearest of them."""
    known, within = _size(view, figure), usual(figure.kind, *names_of(view, figure))
    about = known if known and math.isfinite(known) else else_size  # a spoilt file may hold any figure
    near = sorted(sizes, key=lambda size: abs(math.log(abs(size) / about)))
    likely = [size for size in (*_bound(view, figure), *near) if not within or within.has(size)]
    apart = [size for size in likely if not _is_meant(size, view, figure)]
    return next((size for size in apart if not _is_passed(size, view, figure)), next(iter(apart), None))


def _bound(view: CheckView, figure: Figure) -> list[float]:
    """What it may be at most, or must be at least, where that is a plain figure: told anyhow, and not passed."""
    limit = _limit(view, figure)
    if limit is None or limit.rule == "within" or not limit.amount or limit.amount % 1:
        return []
    return [limit.amount]


def _size(view: CheckView, figure: Figure) -> float | None:
    """About how large it is, in its own unit: as drawn, else as its limit, else as such a figure often is."""
    root, limit = _root(view, figure), _limit(view, figure)
    meant = _drawn(view, root)
    if meant and abs(meant) >= 1e-6:
        return abs(meant)
    if limit and limit.amount is not None and (figure.drawn is None or limit.rule != "within"):
        return abs(limit.amount)
    texts = often(root.kind, names_of(view, root))
    return next((size for text in texts for size in numbers(read(root.kind, text))), None)


def _root(view: CheckView, figure: Figure) -> Figure:
    """The figure itself; one that is held to another of its check, and not to a drawing, has that one's size."""
    for _ in view.check.figures:
        terms = figure.drawn.terms if figure.drawn and _drawn(view, figure) is None else ()
        other = next((view.check.figure(term.name) for term in terms if term.kind == "figure"), None)
        if other is None:
            break
        figure = other
    return figure


def _drawn(view: CheckView, figure: Figure) -> float | None:
    return next((size for one in view.figures if one.key == figure.key for size in numbers(one.drawn)), None)


def _limit(view: CheckView, figure: Figure) -> Limit | None:
    return next((one.limit for one in view.figures if one.key == figure.key), None)


def _is_meant(size: float, view: CheckView, figure: Figure) -> bool:
    meant = _drawn(view, _root(view, figure))
    return meant is not None and abs(abs(size) - abs(meant)) <= NEAR * abs(meant)


def _is_passed(size: float, view: CheckView, figure: Figure) -> bool:
    """Whether its limit passes it, or might, being within a tolerance; what can't be judged yet is not."""
    limit = _limit(view, figure)
    if limit is None or limit.amount is None:
        return False
    uncertainty = None if figure.exact else uncertainty_of(figure.kind, size, figure.read_with, None)
    verdict = against(limit, size, _drawn(view, _root(view, figure)), uncertainty or 0.0)
    return verdict == "pass" or (limit.rule == "within" and verdict == "unsure")


def often(kind: Kind, names: Sequence[str]) -> Iterator[str]:
    """What a figure of that kind often is, by the first of its names that is known."""
    yield from (as_typed(OF_NAME[name]) for name in names if name in OF_NAME)
    if kind == "length":
        yield str(OFTEN.get(range_of(*names), SMALL))


def names_of(view: CheckView, figure: Figure) -> tuple[str, ...]:
    """By which slips.py and OF_NAME may know it, the nearest first."""
    own = (f"{view.check.calculator}.{figure.key}", figure.key) if view.check.calculator else ()
    return (figure.sets, *own, f"{view.check.id}.{figure.key}", figure.key)
