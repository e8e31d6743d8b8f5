"""The stair dormer: a barrel in copper, 1800 wide and 600 high, standing at its cheek plates."""

from days import DUNN, REED, Day

from sitelog.job.job import Job

DRAWN = {
    "width": "1800",
    "rise": "600",
    "cheek": "700",
    "pitch": "35",
    "opening_width": "1150",
    "opening_depth": "1500",
    "deck": "18",
    "design_mass": "5.5",
}


def finish(job: Job) -> None:
    day = Day(job, 17)
    day.answer("dormer.make-up.curve", value="formers")
    day.answer("dormer.make-up.sheet", value="18")
    day.answer("dormer.make-up.stance", value="square")
    day.answer("dormer.make-up.formers", count="2", depth="170", board="300", thickness="22")
    day.answer("dormer.make-up.bearers", thickness="47", depth="75", spacing="400", noggins="2", tool="T2")
    day.answer("dormer.make-up.ceiling", value="closed")
    day.sign("dormer.make-up")
    day.answer("dormer.finish.lining", value="copper-06")
    day.read("copper-runoff", "on to the slates, then the lead gutter; no zinc below it")
    day.answer("dormer.finish.deck", all="18", layer="9")
    day.answer("dormer.finish.bend")
    day.answer("dormer.finish.roll", value="45")
    day.answer("dormer.finish.crown", value="falls")
    day.answer("dormer.finish.bay", most="1800", least="1:60", who="P. Arden, coppersmith", bay="1500")
    day.answer("dormer.finish.mass", value="5.5")
    day.read("load-change", "as designed for", at="dormer.finish")
    day.answer("dormer.finish.build-up", value="warm")
    day.answer("dormer.finish.agreed", value="P. Arden for the coppersmith, 17 Nov, R-110 A")
    day.sign("dormer.finish")


def opening(job: Job) -> None:
    day = Day(job, 23, 11)
    day.read("cut-members", "cut roof, propped as the engineer drew", at="dormer.opening")
    day.read("notch-engineer", "none", at="dormer.opening")
    day.read("people-below", "stair shut below, brick guards on the lift under AB")
    day.read("fragile", "stair well boarded over, marked")
    day.answer("dormer.opening.detail", value="E-24 B: doubled rafters, two trimmers, lintel 100x65")
    day.answer("dormer.opening.pitch", value="35", tool="P1")
    day.answer("dormer.opening.worked")
    day.answer("dormer.opening.rafters", DUNN, cut="2", added="2")
    day.answer("dormer.opening.doubled", DUNN, left="2", right="2")
    day.answer("dormer.opening.size", DUNN, width="1151", length="1832", first="2163", second="2162", tool="T2")
    day.answer("dormer.opening.head", DUNN, value="1", tool="L1")
    day.answer("dormer.opening.carried", DUNN, value="hangers")
    day.sign("dormer.opening")


def cheeks(job: Job) -> None:
    day = Day(job, 24, 7)
    day.read("nail-gun", "one at a time", DUNN)
    day.answer("dormer.cheeks.levels", DUNN, readings="1401,1402,1401,1402,1401,1401", tool="L1")
    # Near its limit of 3: with this tape nobody can say on which side of it.
    day.answer("dormer.cheeks.over-plates", DUNN, face="1765.5", middle="1763", back="1762", tool="T2")
    day.answer("dormer.cheeks.square", DUNN, left="1895", right="1896", tool="T2")
    # Out by more than the level could be: it waits to be pulled in.
    day.answer(
        "dormer.cheeks.plumb", REED, left="1", right="9", tool="L1", note="R to be pulled in before it is braced"
    )
