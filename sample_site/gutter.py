"""The gutter behind the parapet, in code 7 lead: seat plates down, one check put off till the sole is laid."""

from days import DUNN, VALE, Day

from sitelog.job.job import Job

DRAWN = {"length": "7200", "run": "3000", "pitch": "35", "gutter_run": "6000", "behind": "20"}


def finish(job: Job) -> None:
    day = Day(job, 17, 11)
    day.answer("gutter.finish.lining", value="lead-code-7")
    day.answer("gutter.finish.fall", least="1:80", built="1:40")
    day.answer("gutter.finish.bay-agreed", most="2500", who="S. Brook, leadworker")
    day.answer("gutter.finish.rain", area="40", rain="0.042")
    day.answer("gutter.finish.walk", value="310")
    day.answer("gutter.finish.outlets", value="one 100 sump at B, overflow 120 through the parapet, R-114 A")
    day.answer("gutter.finish.sides", value="150 up the parapet, lay board 225 up the slope, R-114 A")
    day.answer("gutter.finish.agreed", value="S. Brook for the leadworker, 17 Nov, R-114 A")
    day.sign("gutter.finish")


def seats(job: Job) -> None:
    day = Day(job, 23, 8)
    day.read("seat-engineer", "as the engineer drew them, all in", at="gutter.seats")
    day.read("people-below", "pavement fenced off, brick guards along the parapet")
    # Measured on the Friday and entered on the Monday: it is marked late.
    day.answer("gutter.seats.board", DUNN, offsets="0,1,2,1,0", length="7200", tool="T2", done="2026-11-20T15:40+00:00")
    day.answer("gutter.seats.levels", DUNN, readings="1402,1403,1401,1402,1402", tool="L1")
    day.answer("gutter.seats.behind", DUNN, middle="21", a="20", b="20", tool="T2")
    day.defer("gutter.seats.joints", "gutter.sole", "upper plate laid dry till the sole bearers are in")
    day.answer("gutter.seats.made", value="one")
    day.answer("gutter.seats.detail", value="E-23 A: M12 at every second joist")
    day.answer("gutter.seats.fixings", VALE, photo="IMG_2271 to 2276")
