"""Makes the sample jobs anew: `python sample_site/make.py`. The people, the sites and every figure are invented.

kiln-lane.json, the usual one: a hipped roof in slates and lead, a dormer with a curved head in copper, a link deck in
resin and the lead gutter behind its parapet. The plates came out 13 mm apart on the diagonals (snagged), the first pair
was let go with a twist, and the main roof stands at its hip lines; each other part stands where its own hold is still
to come.

mill-yard.json: an L said block by block, with a valley, one gable, a lean-to and a pitched dormer (cut_roof.py).
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import cut_roof
import deck
import dormer
import gutter
import main_roof
from days import DUNN, REED, UTC, Day

from sitelog.checklist.load import load
from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author

FOLDER = Path(__file__).parent
MAIN = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "40", "overhang": "300"}
# The dormer stands in slope AB, so its opening is drawn from the start.
OPENING = {
    "openings": "some",
    "opening_width": "1150",
    "opening_depth": "1500",
    "opening_foot": "900",
    "trimmer_thickness": "47",
}
Days = tuple[Callable[[Job], None], ...]
PARTS: tuple[tuple[str, str, str, Mapping[str, str]], ...] = (
    ("main", "Main roof", "hipped", MAIN | OPENING),
    ("dormer", "Stair dormer", "barrel-dormer", dormer.DRAWN),
    ("deck", "Link deck", "firred-deck", deck.DRAWN),
    ("gutter", "Parapet gutter", "parapet-gutter", gutter.DRAWN),
)
# In the order of the days, and on one day in the order of the hours: the main roof's ends with the diary.
KILN_DAYS: Days = (
    dormer.finish,
    deck.finish,
    gutter.finish,
    main_roof.finish,
    deck.joists,
    main_roof.plates,
    deck.firrings,
    main_roof.first_pair,
    main_roof.ridge,
    gutter.seats,
    dormer.opening,
    dormer.cheeks,
    main_roof.hip_lines,
)
MILL_DAYS: Days = (
    cut_roof.finish,
    cut_roof.plates,
    cut_roof.timber,
    cut_roof.first_pair,
    cut_roof.ridge,
    cut_roof.hips,
)
KILN_LANE = JobSetup(title="Kiln Lane, plot 3", place="north side, behind the tree", units="metric", parts=PARTS)
MILL_YARD = JobSetup(
    title="Mill Yard, house 2",
    place="far end of the yard",
    units="metric",
    parts=(("roof", "House roof", "cut-roof", cut_roof.DRAWN),),
)


# After seven: a job's id is of its start, and by the id two files are known for copies of one job.
MINUTES = {KILN_LANE.title: 31, MILL_YARD.title: 30}


def make(file: Path, setup: JobSetup, days: Days) -> None:
    """Write a sample job to `file`, which must not be there yet."""
    author = Author(by=REED, device="sample01", now=datetime(2026, 11, 16, 7, MINUTES[setup.title], tzinfo=UTC))
    with Job.create(file, load(), author, setup) as job:
        for day in (_before, *days):
            day(job)


def _before(job: Job) -> None:
    day = Day(job, 16)
    for name, kind, grade in (
        ("T2", "tape", "II"),
        ("L1", "level", ""),
        ("M4", "moisture meter", ""),
        ("P1", "protractor", ""),
    ):
        day.do(REED, lambda name=name, kind=kind, grade=grade: actions.instrument(name, kind, grade), 1)
    day.read("scaffold", "2")
    day.read("overhead-lines", "none in sight")
    day.read("phase-plan", "M. Reed, plan rev B in the office")
    day.read("party-wall", "none is touched")
    day.answer("job.before.works", value="new")
    day.answer("job.before.drawings", value="R-101 C, R-102 B, engineer E-21 A")
    day.answer("job.before.building-control", note="told 9 Nov; they want the frame before covering")
    day.answer("job.before.hot-tools", value="none")
    day.answer("job.before.scaffold", rail="1000", gap="440", tool="T2")
    day.answer("job.before.moisture", DUNN, value="17.5", tool="M4")
    day.answer("job.before.stamps", DUNN, value="IMG_2201")
    day.sign("job.before")
    day.diary(
        weather="dry, 6 degrees, light wind",
        people="Reed, Dunn, Vale",
        deliveries="plates, straps, first lift of 47x150",
    )


if __name__ == "__main__":
    # Made elsewhere first: the folder of good copies and the lock are no part of a sample.
    with TemporaryDirectory() as folder:
        for name, setup, days in (("kiln-lane.json", KILN_LANE, KILN_DAYS), ("mill-yard.json", MILL_YARD, MILL_DAYS)):
            make(Path(folder) / name, setup, days)
            (FOLDER / name).write_bytes((Path(folder) / name).read_bytes())
