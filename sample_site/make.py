"""Makes the sample job anew: `python sample_site/make.py`. The people, the site and every figure are invented.

The plates came out 13 mm apart on the diagonals (snagged), the first pair was let go with a twist, and the job stands
at the hip lines.
"""

from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path
from tempfile import TemporaryDirectory

from sitelog.checklist.load import load
from sitelog.job import acts
from sitelog.job.entry import Draft, Hand
from sitelog.job.job import Job

FILE = Path(__file__).parent / "kiln-lane.json"
REED, DUNN, VALE = "M. Reed", "A. Dunn", "T. Vale"
UTC = timezone(timedelta(0))


class Day:
    """One day on the sample site: each act a few minutes after the one before."""

    def __init__(self, job: Job, day: int) -> None:
        self.job = job
        self.now = datetime(2026, 11, day, 7, 31, 20, tzinfo=UTC)

    def do(self, by: str, make: Callable[[], Draft | list[Draft]], minutes: float = 4) -> None:
        self.now += timedelta(minutes=minutes)
        self.job.do(make(), Hand(by=by, device="sample01", now=self.now))

    def answer(
        self, path: str, by: str = REED, *, note: str = "", tool: str = "", minutes: float = 4, **texts: str
    ) -> None:
        texts = {key.rstrip("_"): text for key, text in texts.items()}
        self.do(
            by, lambda: acts.answer(self.job.state, self.job.library, path, texts, note=note, instrument=tool), minutes
        )

    def read(self, caution: str, text: str, by: str = REED) -> None:
        self.do(by, lambda: acts.read_caution(self.job.state, self.job.library, caution, text), 1)

    def sign(self, path: str, by: str = REED) -> None:
        self.do(by, lambda: acts.sign(self.job.state, path), 6)

    def diary(self, by: str = REED, **fields: str) -> None:
        self.now = self.now.replace(hour=16, minute=20)
        self.do(by, lambda: acts.diary(self.now.date().isoformat(), **fields))


def make(file: Path) -> None:
    """Write the sample job to `file`, which must not be there yet."""
    hand = Hand(by=REED, device="sample01", now=datetime(2026, 11, 16, 7, 31, tzinfo=UTC))
    design = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "40", "overhang": "300"}
    with Job.create(
        file,
        load(),
        hand,
        title="Kiln Lane, plot 3",
        place="north side, behind the tree",
        units="metric",
        parts=[("main", "Main roof", "hipped", design)],
    ) as job:
        for day in (_before, _finish, _plates, _first_pair, _ridge, _hip_lines):
            day(job)


def _before(job: Job) -> None:
    day = Day(job, 16)
    for name, kind, grade in (
        ("T2", "tape", "II"),
        ("L1", "level", ""),
        ("M4", "moisture meter", ""),
        ("P1", "protractor", ""),
    ):
        day.do(REED, lambda name=name, kind=kind, grade=grade: acts.instrument(name, kind, grade), 1)
    day.read("scaffold", "2")
    day.read("overhead-lines", "none in sight")
    day.read("phase-plan", "M. Reed, plan rev B in the office")
    day.answer("job.before.works", value="new")
    day.answer("job.before.drawings", value="R-101 C, R-102 B, engineer E-21 A")
    day.answer("job.before.control", value="told 9 Nov; they want the frame before covering")
    day.answer("job.before.inspected", value="2")
    day.answer("job.before.rails", rail="1000", gap="440", tool="T2")
    day.answer("job.before.moisture", DUNN, value="17.5", tool="M4")
    day.answer("job.before.stamps", DUNN, value="IMG_2201")
    day.sign("job.before")
    day.diary(
        weather="dry, 6 degrees, light wind",
        people="Reed, Dunn, Vale",
        deliveries="plates, straps, first lift of 47x150",
    )


def _finish(job: Job) -> None:
    day = Day(job, 17)
    day.answer("main.finish.covering", value="slates-500x250")
    day.answer("main.finish.lining", value="lead-code-5")
    day.read("lead-health", "bowl and soap by the hut, before the kettle")
    day.answer("main.finish.pitch", least="25", spare="10")
    day.answer("main.finish.mass", value="39")
    day.read("load-change", "as designed for")
    day.answer("main.finish.exposure", value="moderate")
    day.answer("main.finish.headlap", value="80")
    day.answer("main.finish.insulation", value="ceiling")
    day.answer("main.finish.boards", value="18 ply valley boards, 150 upstands, all on R-102 B")
    day.answer("main.finish.agreed", value="C. Moss for the slater, 17 Nov, R-102 B")
    day.sign("main.finish")
    day.diary(weather="rain till ten", people="Reed, Dunn", delays="two hours to rain")


def _plates(job: Job) -> None:
    day = Day(job, 18)
    day.read("open-edge", "all four eaves; rails at 1000, nets under the joists")
    day.read("weather-wind", "9")
    day.read("ladder", "stair tower on the north side, tied")
    day.answer("main.plates.sides", ab="8996", bc="6003", cd="9007", da="6002", ac="10826", bd="10813", tool="T2")
    day.do(
        REED,
        lambda: acts.snag(
            job.state,
            "main.plates.sides",
            "corner C 13 out on the diagonal; wall is as built",
            "designer",
            "2026-11-20",
        ),
    )
    day.read("plate-refer", "differ, the designer was told")
    day.answer("main.plates.levels", DUNN, readings="1402,1403,1401,1402,1404,1403,1402,1402", tool="L1")
    day.answer("main.plates.span", middle="6002", at_p="6002", at_q="6003", tool="T2")
    day.answer("main.plates.straps", DUNN, spacing="1800", fixing="120", tool="T2")
    day.answer("main.plates.laps", DUNN, value="5")
    day.answer("main.plates.hip-loads", value="jacks")
    day.answer("main.plates.ties", DUNN, value="IMG_2230 to 2234")
    day.answer("main.plates.ends", VALE)
    day.do(REED, lambda: acts.note(job.state, "main.plates.sides", "long wall bedded first, BC follows the blockwork"))
    day.sign("main.plates")
    day.diary(weather="dry, wind under 10", people="Reed, Dunn, Vale", deliveries="ridge and hips")


def _first_pair(job: Job) -> None:
    day = Day(job, 19)
    day.read("part-built", "nothing up yet; braces cut and ready at AB")
    day.read("saw-dust", "extraction and mask")
    day.read("power-tools", "110 V")
    day.answer("main.first-pair.sizes", DUNN, rafter="47", hip="47", ridge="38", tool="T2")
    day.answer("main.first-pair.common")
    day.answer("main.first-pair.birdsmouth")
    day.answer("main.first-pair.pattern", ab="0", cd="0.5", tool="T2")
    day.answer("main.first-pair.ridge-depth", depth="188", under="5", tool="T2")
    day.answer("main.first-pair.twist", spacing="400", fall_foot="1.0", fall_head="6.5", length="3450", tool="L1")
    day.do(
        REED,
        lambda: acts.release(
            job.state, "main.first-pair.twist", "packed level at the head; slater has seen it and is content"
        ),
        25,
    )
    day.answer("main.first-pair.plumb", value="3", tool="L1")
    day.answer("main.first-pair.pitch", ab="35.1", cd="34.9", tool="P1")
    day.answer("main.first-pair.braced", DUNN, value="IMG_2251, 2252")
    day.sign("main.first-pair")
    day.diary(weather="cold, clear", people="Reed, Dunn, Vale", text="First pair up at two, packed after the twist.")


def _ridge(job: Job) -> None:
    day = Day(job, 20)
    day.read("part-built", "first pair braced both ways at the DA end")
    day.read("heavy-lift", "24")
    day.read("weather-wind", "12")
    day.answer("main.ridge.ridge-line", offsets="0,1,2,1,0", length="2999", tool="T2")
    day.answer("main.ridge.ridge-ends", length="2999", fall="0.5", tool="T2")
    day.answer("main.ridge.ridge-joint", value="one")
    day.answer("main.ridge.spacing", plate="400", ridge="401", tool="T2")
    day.answer("main.ridge.plane", DUNN, value="2", tool="T2")
    day.answer("main.ridge.tied", DUNN, value="IMG_2260 to 2263")
    day.answer("main.ridge.crowns", VALE)
    day.sign("main.ridge")
    day.diary(weather="dry, gusting to 18 after three", people="Reed, Dunn, Vale")


def _hip_lines(job: Job) -> None:
    day = Day(job, 24)
    day.read("open-edge", "all four eaves; rails at 1000, nets under the joists")
    day.read("slip-wet", "dry")
    day.read("weather-wind", "8")
    day.answer("main.hip-lines.meeting", p="2", q="-1", tool="T2")
    day.answer("main.hip-lines.hip-a")
    day.answer("main.hip-lines.hip-b")


if __name__ == "__main__":
    # Made elsewhere first: the folder of good copies and the lock are no part of the sample.
    with TemporaryDirectory() as folder:
        made = Path(folder) / FILE.name
        make(made)
        FILE.write_bytes(made.read_bytes())
