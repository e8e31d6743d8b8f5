"""The link deck between the roofs: GRP on firrings, one fall; a side measured again has turned its list stale."""

from days import DUNN, VALE, Day

from sitelog.job.job import Job

DRAWN = {"length": "5200", "width": "3000", "fall": "1:40", "thin": "20", "design_mass": "3"}


def finish(job: Job) -> None:
    day = Day(job, 17, 9)
    day.answer("deck.finish.lining", value="grp")
    day.read("grp-resin", "lock-up by the gate, catalyst in a box of its own")
    day.answer("deck.finish.falls", value="along")
    day.answer("deck.finish.fall", least="1:80", cut="1:40")
    day.answer("deck.finish.fall-drawn", value="1:40")
    day.answer("deck.finish.mass", value="3")
    day.read("load-change", "as designed for", at="deck.finish")
    day.answer("deck.finish.built-up", value="cold")
    day.answer("deck.finish.edges", value="AB drip to the parapet gutter; BC, CD, DA kerbs, R-112 A")
    day.answer("deck.finish.boards", value="18 OSB3 tongued, trims by the laminator, upstands 150, R-112 A")
    day.answer("deck.finish.agreed", value="L. Tarn for the laminator, 17 Nov, R-112 A")
    day.sign("deck.finish")


def joists(job: Job) -> None:
    day = Day(job, 18)
    day.read("weather-wind", "8 13")
    day.read("part-built", "joists built in at both ends, nothing stacked on them")
    day.read("people-below", "link passage shut at both doors, nobody in it")
    day.read("crane", "hand hoist, one trained person")
    day.read("lone-work", "A. Dunn and T. Vale, on it together")
    day.read("notch-engineer", "none", at="deck.joists")
    day.answer("deck.joists.levels", DUNN, readings="1409,1405,1404,1402,1400,1403,1406,1408,1412", tool="L1")
    day.answer("deck.joists.sides", DUNN, ab="5200", bc="3001", cd="5201", da="3000", ac="6004", bd="6003", tool="T2")
    day.answer("deck.joists.spacing", DUNN, spacing="400", thickness="47", tool="T2")
    day.answer("deck.joists.walls", DUNN, first="50", last="50", tool="T2")
    day.skip("deck.joists.straps", "joists are built into both walls, E-22 A")
    day.answer("deck.joists.detail", value="E-22 A; none cut")
    day.answer("deck.joists.packed", VALE, photo="IMG_2238, 2239")
    day.sign("deck.joists")


def firrings(job: Job) -> None:
    day = Day(job, 19)
    day.answer("deck.firrings.list-along")
    day.answer("deck.firrings.corners", DUNN, a="29", b="24", c="95", d="101", tool="T2")
    # The end joist was moved off the pipe, so the side is measured anew; what was worked from it is stale.
    day.answer(
        "deck.joists.sides",
        DUNN,
        ab="5200",
        bc="3141",
        cd="5201",
        da="3140",
        ac="6075",
        bd="6074",
        tool="T2",
        note="end joist moved 140 off the soil pipe",
    )
