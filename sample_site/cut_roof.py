"""An L said block by block: plates out of square, a long side snagged, a bowed ridge let go, two hips measured.

The side CE came out 12 mm long: it is snagged. The ridge bows 7 mm: it is released. The roof stands at its third hip.
"""

from days import DUNN, REED, Day

from sitelog.job.actions import actions
from sitelog.job.job import Job

DRAWN = {
    "building": (
        "main 10400x6200 40; wing off CD 0 from D 4200x3600 40 end gable; "
        "lean-to off AB 2400 from A 3000x1800 25 plate -1200; dormer off AB 7000 from A 1500x900 40 cheek 600; "
        "purlins 1300"
    ),
    "design_mass": "40",
}
SIDES = {"a_b": "10404", "b_c": "6206", "c_e": "6212", "e_f": "3603", "f_g": "4205", "g_a": "9804"}
TIES = {"b_e": "8781", "a_f": "10673", "c_g": "11016", "e_g": "5528"}


def finish(job: Job) -> None:
    day = Day(job, 17, 9)
    day.answer("roof.finish.covering", value="slates-500x250")
    day.answer("roof.finish.lining", value="lead-code-5")
    day.read("lead-health", "basin and soap in the cabin")
    day.answer("roof.finish.exposure", value="moderate")
    day.answer("roof.finish.headlap", value="100")
    day.answer("roof.finish.pitch", least="25")
    day.answer("roof.finish.mass", value="39")
    day.read("load-change", "as designed for", at="roof.finish")
    day.read("load-both-sides", "four stacks a slope, opposite slopes in turn")
    day.answer("roof.finish.insulation", value="ceiling")
    day.answer("roof.finish.boards", value="18 ply valley boards, 150 upstands, R-203 A")
    day.answer("roof.finish.agreed", value="P. Arden for the slater, 17 Nov, R-203 A")
    day.sign("roof.finish")


def plates(job: Job) -> None:
    day = Day(job, 18)
    day.read("open-edge", "all eaves; rails at 1000, nets under the joists")
    day.read("weather-wind", "7 12")
    day.read("ladder", "stair tower in the corner at E, tied")
    day.read("people-below", "yard fenced off, gate at B")
    day.read("fragile", "joist bays boarded over")
    day.read("lone-work", "A. Dunn and T. Vale")
    day.answer("roof.plate-joints.made", value="halved")
    day.sign("roof.plate-joints")
    day.answer("roof.plates.sides", DUNN, **SIDES, tool="T2")
    day.do(
        REED,
        lambda: actions.snag(job.state, "roof.plates.sides", "CE 12 long, wall is as built", "designer", "2026-11-20"),
    )
    day.answer("roof.plates.ties", DUNN, **TIES, tool="T2")
    day.do(
        REED,
        lambda: actions.release(job.state, "roof.plates.ties", "follows CE, snag 1; all is cut to the plates as built"),
    )
    day.read("plate-refer", "differ, the designer was told")
    day.read("hip-engineer", "the engineer's detail on site", at="roof.plates")
    readings = "1402,1403,1402,1401,1402,1403,1404,1403,1402,1402,1401,1402"
    day.answer("roof.plates.levels", DUNN, readings=readings, tool="L1")
    day.answer("roof.plates.straps", DUNN, spacing="1800", fixing="120", tool="T2")
    day.answer("roof.plates.laps", DUNN, value="6")
    day.answer("roof.plates.hip-loads", value="purlins")
    day.answer("roof.plates.corners", DUNN, photo="IMG_3110 to 3115")
    day.answer("roof.plates.dragon", DUNN, value="E-41 B at A, B and C; ties bolted, photos with the corners")
    day.answer("roof.plates.ends", DUNN)
    day.sign("roof.plates")
    day.diary(weather="dry, wind under 12", people="Reed, Dunn, Vale", deliveries="hips, valley, ridges")


def timber(job: Job) -> None:
    day = Day(job, 19)
    day.read("treated-timber", "in the skip, gloves on")
    day.read("saw-dust", "extraction and mask")
    day.answer("roof.timber.engineer", value="E-41 B: hips, valley, purlins, dormer trimmers; ties are the joists")
    day.read("hip-engineer", "the engineer's detail on site", at="roof.timber")
    day.answer("roof.timber.eaves-tied", value="joists")
    day.answer("roof.timber.birdsmouth")
    day.answer("roof.timber.sizes", DUNN, rafter="47", hip="47", ridge="38", tool="T2")
    day.answer("roof.timber.top", value="backed")
    day.answer("roof.timber.valley-size", DUNN, value="47", tool="T2")
    for valley in ("ab-pq", "ab-mn", "ce-ef"):
        day.answer(f"roof.timber.valley-{valley}-made", value="framed")
    day.sign("roof.timber")
    sizes = {
        "purlin": "75x225",
        "strut": "75x100",
        "most": "1800",
        "foot": "0",
        "off": "0",
        "longest": "4800",
        "splice": "675",
    }
    day.answer("roof.level.purlins", **sizes)
    day.read("joint-engineer", "as the engineer drew them", at="roof.level")
    day.sign("roof.level")


def first_pair(job: Job) -> None:
    day = Day(job, 19, 10)
    day.read("part-built", "nothing up yet; braces cut and ready at AB")
    day.read("weather-wind", "7 12")
    day.answer("roof.main-first-pair.common")
    day.answer("roof.main-first-pair.pattern", DUNN, one="0", other="0.5", tool="T2")
    day.answer("roof.main-first-pair.ridge-depth", DUNN, depth="200", tool="T2")
    day.answer("roof.main-first-pair.twist", spacing="400", fall_foot="0.5", fall_head="1.5", length="4020", tool="L1")
    day.answer("roof.main-first-pair.stood", plumb="2", one="40.1", other="39.9", tool="L1")
    day.answer("roof.main-first-pair.braced", DUNN, photo="IMG_3121, 3122")
    day.sign("roof.main-first-pair")
    day.diary(weather="cold, clear", people="Reed, Dunn, Vale", text="First pair of the main roof up at two.")


def ridge(job: Job) -> None:
    day = Day(job, 20)
    day.read("part-built", "first pair braced both ways")
    day.read("heavy-lift", "23")
    day.read("weather-wind", "9 15")
    day.answer("roof.main-ridge.ridge-ab-ce-line", offsets="0,4,7,5,0", length="4199", tool="T2")
    day.do(
        REED,
        lambda: actions.release(
            job.state, "roof.main-ridge.ridge-ab-ce-line", "pulled in as far as it goes; slater is content"
        ),
        15,
    )
    day.answer("roof.main-ridge.joint", value="one")
    day.answer("roof.main-ridge.spacing", DUNN, plate="400", ridge="401", tool="T2")
    day.answer("roof.main-ridge.plane", DUNN, value="2", tool="T2")
    day.answer("roof.main-ridge.pairs", DUNN, photo="IMG_3130 to 3134")
    day.answer("roof.main-ridge.crowns", DUNN)
    day.sign("roof.main-ridge")
    day.diary(weather="dry, gusting to 15", people="Reed, Dunn, Vale")


def hips(job: Job) -> None:
    day = Day(job, 23)
    day.read("open-edge", "all eaves; rails at 1000, nets under the joists")
    day.read("weather-wind", "8 12")
    day.answer("roof.main-hips.hip-ab-bc-string", DUNN, value="5101", tool="T2")
    day.answer("roof.main-hips.hip-ab-bc-cuts")
    day.answer("roof.main-hips.hip-ab-ga-string", DUNN, value="5104", tool="T2")
    day.answer("roof.main-hips.hip-ab-ga-cuts")
