"""A cut roof as the next trade sets it out: each slope by its name, and the true lengths of its lines."""

from collections.abc import Iterator, Mapping

from sitelog.calculators.catalogue import Answer, Row
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import PartView
from sitelog.quantities.rounding import places
from sitelog.reports.brief.set_out import POINT, Roof, Slope, answers_of, set_out, views_of
from sitelog.reports.formatting import WITHHELD, Formatter
from sitelog.reports.model import Table
from sitelog.reports.phrases import joined
from sitelog.text import text_if

BUILDING = "building"  # the calculator of a roof said block by block
MAIN = "main"
KINDS: Mapping[str, str] = {
    "ridge": "Ridges", "hip": "Hips", "valley": "Valleys", "level": "Valleys", "verge": "Verges, with their tails",
    "abutment": "Abutments",
}  # fmt: skip
SIDES, TIES = "Plates", "Plates, corner to corner"
NO_EAVES = "no eaves"  # of the upper slope of a mansard, and of one over sprockets
DIFFERS = 0.5  # mm: less is no spread


# --- slopes -------------------------------------------------------------------------------------------------------


def named_slopes(roof: Roof) -> Iterator[Slope]:
    """Every slope of a cut roof, block by block."""
    for row in _rows(roof.answers, "named_slopes"):
        yield _slope(roof, row)


def _slope(roof: Roof, row: Row) -> Slope:
    slope = _fact(row["slope"])
    up, covered = roof.length(f"{slope}_up"), roof.length(f"{slope}_covered")
    top = roof.length(f"{slope}_top")
    return Slope(
        side=joined([str(row["name"]), text_if(row["block"] != MAIN, str(row["block"]))], " "),
        eaves=roof.told(f"{slope}_tails") if roof.length(f"{slope}_eaves") != 0 else NO_EAVES,
        top=POINT if top == 0 else roof.told(f"{slope}_top"),
        up=joined([roof.told(f"{slope}_up"), _spread(roof, slope, up)], " "),
        area="" if covered is None else places(covered, 1),
        pitch=_pitch(roof, str(row["slope"])),
        **set_out(roof, up, covered * 1e6 / up if covered and up else None),
    )


def _spread(roof: Roof, slope: str, up: float | None) -> str:
    """The least up the slope where its top isn't all at one height."""
    least = roof.length(f"{slope}_shortest")
    if least is None or up is None or up - least < DIFFERS:
        return ""
    return f"(shortest {roof.tell.figure('mm', least)})"


def _pitch(roof: Roof, slope: str) -> str:
    """As it was read for the tiler; else as it was worked."""
    for view in views_of(roof, "slopes"):
        if view.check.id == f"{slope}-size" and view.path not in roof.tell.stale_paths:
            read = next((figure.value for figure in view.figures if figure.key == "pitch"), None)
            if read is not None:
                return roof.tell.figure("deg", read, typed=True)
    return roof.told(f"{_fact(slope)}_pitch")


# --- lines --------------------------------------------------------------------------------------------------------


def lines_table(tell: Formatter, part: PartView) -> Table | None:
    """The true lengths of a cut roof's lines, a row a kind; None for a part of another form."""
    answers = answers_of(tell, part)
    if BUILDING not in answers:
        return None
    by_kind: dict[str, list[tuple[str, str]]] = {}
    for name, id in _named(answers):
        word, _, short = name.removeprefix("Level ").partition(" ")
        kind = KINDS.get(word.lower(), TIES if short.startswith("to ") else SIDES)
        by_kind.setdefault(kind, []).append((short if word.lower() in KINDS else name, f"{_fact(id)}_length"))
    rows = tuple(row for kind, lines in by_kind.items() if (row := _line_row(tell, part, kind, lines)))
    return Table(("Lines", "True lengths, mm"), rows, (3, 12))


def _named(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Every line, edge, side and tie by its name, and its id."""
    lines = sorted(_rows(answers, "named_lines"), key=lambda row: list(KINDS).index(str(row["line"]).partition("-")[0]))
    for row in (*lines, *_rows(answers, "edges")):
        yield str(row["name"]), str(row["line"])
    for row in _rows(answers, "sides"):
        yield str(row["name"]), str(row["side"])


def _line_row(tell: Formatter, part: PartView, kind: str, lines: list[tuple[str, str]]) -> tuple[str, str] | None:
    facts = [(short, tell.state.facts.get(f"{part.id}.{name}")) for short, name in lines]
    known = [(short, fact) for short, fact in facts if fact and fact.now is not None]
    if not known:
        return None
    measured = any(fact.measured for _, fact in known)
    return f"{kind}{text_if(not measured, ', as drawn')}", "; ".join(
        f"{name} {_told(tell, fact)}" for name, fact in known
    )


def _told(tell: Formatter, fact: Fact) -> str:
    """A length as it is, with what was drawn where that is another."""
    if tell.stale_fact(fact):
        return WITHHELD
    now, drawn = tell.figure("mm", fact.now), tell.figure("mm", fact.drawn)
    return now if not fact.measured or now == drawn else f"{now} (drawn {drawn})"


def _rows(answers: Mapping[str, Answer], name: str) -> list[Row]:
    found = answers[BUILDING].results.get(name)
    return found if isinstance(found, list) else []


def _fact(id: object) -> str:
    """What the facts of a line, a slope or a side begin with."""
    return str(id).replace("-", "_")
