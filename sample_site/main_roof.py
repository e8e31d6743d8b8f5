"""The main roof, hipped, in slates and lead: plates 13 mm apart on the diagonals, a first pair let go with a twist."""

from days import DUNN, REED, VALE, Day

from sitelog.job.actions import actions
from sitelog.job.job import Job


def finish(job: Job) -> None:
    day = Day(job, 17, 13)
    day.answer("main.finish.covering", value="slates-500x250")
    day.answer("main.finish.lining", value="lead-code-5")
    day.read("lead-health", "bowl and soap by the hut, before the kettle")
    day.answer("main.finish.pitch", least="25")
    day.answer("main.finish.mass", value="39")
    day.read("load-change", "as designed for")
    day.read("load-both-sides", "six stacks a slope, over the struts, AB and CD in turn")
    day.answer("main.finish.exposure", value="moderate")
    day.answer("main.finish.headlap", value="80")
    day.answer("main.finish.insulation", value="ceiling")
    day.answer("main.finish.boards", value="18 ply valley boards, 150 upstands, all on R-102 B")
    day.answer("main.finish.agreed", value="C. Moss for the slater, 17 Nov, R-102 B")
    day.sign("main.finish")
    day.diary(weather="rain till ten", people="Reed, Dunn", delays="two hours to rain")


def plates(job: Job) -> None:
    day = Day(job, 18, 9)
    day.answer("main.plate-joints.made", value="halved")
    day.sign("main.plate-joints")
    day.read("open-edge", "all four eaves; rails at 1000, nets under the joists")
    day.read("weather-wind", "9 14")
    day.read("ladder", "stair tower on the north side, tied")
    day.read("people-below", "fence round the scaffold, gate on the north side")
    day.read("fragile", "joist bays boarded over, no glass yet")
    day.read("lone-work", "A. Dunn and T. Vale")
    day.answer("main.plates.sides", ab="8996", bc="6003", cd="9007", da="6002", ac="10826", bd="10813", tool="T2")
    day.do(
        REED,
        lambda: actions.snag(
            job.state,
            "main.plates.sides",
            "corner C 13 out on the diagonal; wall is as built",
            "designer",
            "2026-11-20",
        ),
    )
    day.read("plate-refer", "differ, the designer was told")
    day.answer("main.plates.levels", DUNN, readings="1402,1403,1401,1402,1404,1403,1402,1402", tool="L1")
    day.answer("main.plates.span", middle="6002", at_p="6020", at_q="6003", tool="T2")
    day.answer("main.plates.span", middle="6002", at_p="6002", at_q="6003", tool="T2", note="read wrong", minutes=1)
    day.answer("main.plates.straps", DUNN, spacing="1800", fixing="120", tool="T2")
    day.answer("main.plates.laps", DUNN, value="5")
    day.answer("main.plates.hip-loads", value="jacks")
    day.answer("main.plates.ties", DUNN, value="IMG_2230 to 2234")
    day.answer("main.plates.ends", VALE)
    day.do(
        REED, lambda: actions.note(job.state, "main.plates.sides", "long wall bedded first, BC follows the blockwork")
    )
    day.sign("main.plates")
    day.diary(weather="dry, wind under 10", people="Reed, Dunn, Vale", deliveries="ridge and hips")


def first_pair(job: Job) -> None:
    day = Day(job, 19, 9)
    day.read("part-built", "nothing up yet; braces cut and ready at AB")
    day.read("saw-dust", "extraction and mask")
    day.read("treated-timber", "in the skip, gloves on")
    day.read("power-tools", "110 V")
    day.answer("main.first-pair.eaves-tied", value="joists")
    day.answer("main.first-pair.sizes", DUNN, rafter="47", hip="47", ridge="38", tool="T2")
    day.answer("main.first-pair.common")
    day.answer("main.first-pair.birdsmouth")
    day.answer("main.first-pair.pattern", ab="0", cd="0.5", tool="T2")
    day.answer("main.first-pair.ridge-depth", depth="188", tool="T2")
    day.answer("main.first-pair.twist", spacing="400", fall_foot="1.0", fall_head="6.5", length="3450", tool="L1")
    day.do(
        REED,
        lambda: actions.release(
            job.state, "main.first-pair.twist", "packed level at the head; slater has seen it and is content"
        ),
        25,
    )
    day.answer("main.first-pair.stood", plumb="3", ab="35.1", cd="34.9", tool="L1")
    day.answer("main.first-pair.braced", DUNN, value="IMG_2251, 2252")
    day.sign("main.first-pair")
    day.diary(weather="cold, clear", people="Reed, Dunn, Vale", text="First pair up at two, packed after the twist.")


def ridge(job: Job) -> None:
    day = Day(job, 20)
    day.read("part-built", "first pair braced both ways at the DA end")
    day.read("heavy-lift", "24")
    day.read("weather-wind", "12 18")
    day.answer("main.ridge.ridge-line", offsets="0,1,2,1,0", tool="T2")
    day.answer("main.ridge.ridge-ends", length="2999", fall="0.5", tool="T2")
    day.answer("main.ridge.ridge-joint", value="one")
    day.answer("main.ridge.spacing", plate="400", ridge="401", tool="T2")
    day.answer("main.ridge.plane", DUNN, value="2", tool="T2")
    day.answer("main.ridge.tied", DUNN, value="IMG_2260 to 2263")
    day.answer("main.ridge.crowns", VALE)
    day.sign("main.ridge")
    day.diary(weather="dry, gusting to 18 after three", people="Reed, Dunn, Vale")


def hip_lines(job: Job) -> None:
    day = Day(job, 24, 9)
    day.read("open-edge", "all four eaves; rails at 1000, nets under the joists")
    day.read("slip-wet", "dry")
    day.read("weather-wind", "8 11")
    day.answer("main.hip-lines.meeting", p="2", q="-1", tool="T2")
    day.answer("main.hip-lines.hip-a")
    day.answer("main.hip-lines.hip-b")
