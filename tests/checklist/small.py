"""A small set of checklists without fault, for tests to break. Its figures are made up."""

from pathlib import Path

JOB = """\
id = "job"
title = "Whole job"
form = "job"

[[source]]
id = "practice"
title = "Common practice"
how = "judgement"

[[fact]]
name = "covering"
kind = "choice"
says = "Roof covering"

[[fact]]
name = "moisture"
kind = "number"
says = "Moisture of the timber"
unit = "%"

[[stage]]
id = "start"
title = "Before the start"
place = "first"
hold = true

[[stage.check]]
id = "moisture"
ask = "Moisture of the wettest timber, per cent"
kind = "measure"
figure = "number"
unit = "%"
sets = "moisture"
limit = { rule = "most", amount = 20, origin = "house", source = "practice", says = "dry enough" }
sources = ["practice"]

[[stage.check]]
id = "drawings"
ask = "Engineer's drawings on site"
kind = "tick"
sources = ["practice"]

[[stage]]
id = "finish"
title = "Finish"

[[stage.check]]
id = "covering"
ask = "Covering of the slopes"
kind = "choice"
finishes = "slopes"
sets = "covering"
sources = ["practice"]

[[stage]]
id = "hand-over"
title = "Hand over"
place = "last"

[[stage.check]]
id = "walk"
ask = "Next trade accepts the roof"
kind = "sign"
sources = ["practice"]
"""

HIPPED = """\
id = "hipped"
title = "Cut hipped roof"
form = "hipped"

[[source]]
id = "code-7.2"
title = "A code of practice"
locator = "clause 7.2"
year = 2020
how = "read"

[[source]]
id = "house-square"
title = "House rule on squareness"
how = "judgement"

[[source]]
id = "told"
title = "Told by an old hand"
how = "memory"

[[fact]]
name = "length"
kind = "length"
says = "Plates, front"
asked = true
default = "9000"

[[fact]]
name = "width"
kind = "length"
says = "Plates, side"
asked = true

[[fact]]
name = "pitch"
kind = "pitch"
says = "Pitch"
asked = true

[[fact]]
name = "ac"
kind = "length"
says = "Diagonal AC"
worked = "hypot @length @width"

[[fact]]
name = "cut_by"
kind = "choice"
says = "Cut by hand or by machine"
asked = true
choices = ["hand", "machine"]

[[sum]]
id = "common"
calculator = "common"
inputs = { run = "half @width", pitch = "@pitch", birdsmouth = "1/3" }
gives = { rafter = "length_on_line" }

[[stage]]
id = "plates"
title = "Wall plates"
short = "plates"
hold = true
cautions = ["open-edge"]

[[stage.check]]
id = "sides"
ask = "Four sides and two diagonals, outside faces, mm"
kind = "measure"
why = "Every later length is worked from these."
calculator = "squareness"
inputs = { tape = "II" }
shows = ["diagonal_difference"]
limit = { rule = "within", amount = 10, origin = "house", source = "house-square" }
three_ways = true
sources = ["code-7.2"]

  [[stage.check.figure]]
  key = "ab"
  kind = "length"
  says = "AB, front"
  drawn = "@length"
  sets = "length"

  [[stage.check.figure]]
  key = "bc"
  kind = "length"
  says = "BC"
  drawn = "@width"

  [[stage.check.figure]]
  key = "cd"
  kind = "length"
  says = "CD"

  [[stage.check.figure]]
  key = "da"
  kind = "length"
  says = "DA"
  drawn = "minus @width 0"

  [[stage.check.figure]]
  key = "ac"
  kind = "length"
  says = "Diagonal AC"
  drawn = "@ac"

  [[stage.check.figure]]
  key = "bd"
  kind = "length"
  says = "Diagonal BD"
  drawn = "=ac"
  limit = { rule = "within", amount = 15, origin = "borrowed", source = "code-7.2" }

[[stage.check]]
id = "straps"
ask = "Straps fixed and photographed"
kind = "photo"
needs = ["sides", "start.drawings"]
hands_over_to = ["tiler"]
sources = ["code-7.2"]

[[stage]]
id = "rafters"
title = "Rafters"
when = "pitch over 15 and cut_by is hand"

[[stage.check]]
id = "cutting"
ask = "Cutting list of the commons"
kind = "calculate"
calculator = "common"
inputs = { run = "half @width", pitch = "@pitch" }
shows = ["length_on_line"]
needs = ["plates.sides"]
sources = ["code-7.2"]

[[stage.check]]
id = "treated"
ask = "Cut ends treated"
kind = "tick"
when = "covering in plain-tiles slates or job.moisture over 18"
sources = ["practice"]

[[trade]]
id = "tiler"
when = "covering is slates"
"""

CAUTIONS = """\
[[source]]
id = "edge-law"
title = "Rules on edges"
how = "read"

[[caution]]
id = "open-edge"
title = "Open edge"
hurts = "A fall from the plate."
do = "Rail and toe board before anyone goes up."
ask = "the scaffolder"
when = "not cut_by is machine"
stops = true
figures = [{ says = "rail 950 mm or more above the edge", source = "edge-law" }]
question = { ask = "Wind at the ridge now, mph", kind = "number", unit = "mph", stop_from = 23 }

[[caution]]
id = "scaffold"
title = "Scaffold"
hurts = "A collapse."
do = "Look at the tag."
ask = "the scaffolder"
repeat = "once"
figures = [{ says = "every seven days", source = "edge-law" }]

[caution.question]
ask = "What the tag says"
kind = "choice"
choices = ["in date", "out of date", "no tag"]
stop_on = ["out of date", "no tag"]
"""

FINISHES = """\
[[source]]
id = "tile-sheet"
title = "A table of tiles"
how = "read"

[[finish]]
id = "plain-tiles"
label = "Plain tiles"
for = ["slopes"]
says = "265 x 165, double lap"
cautions = ["scaffold"]

[[finish.fact]]
name = "cover_headlap"
kind = "length"
value = 65
source = "tile-sheet"

[[finish.asks]]
topic = "gauge"
says = "Ask the tiler for the gauge."
source = "tile-sheet"

[[finish]]
id = "slates"
label = "Slates"
for = ["slopes"]
says = "500 x 250"

[[finish.fact]]
name = "cover_headlap"
kind = "length"
value = "90"
source = "tile-sheet"
"""

FILES = {"job": JOB, "hipped": HIPPED, "cautions": CAUTIONS, "finishes": FINISHES}


def write(folder: Path, **files: str) -> Path:
    """The small set in a folder, with the texts given in place of its own; the folder comes back."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in {**FILES, **files}.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


def changed(name: str, old: str, new: str) -> str:
    """The text of a file with one place changed; the place must be there once."""
    text = FILES[name]
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)
