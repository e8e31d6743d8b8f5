"""A small list for a roof said block by block, with a stage, checks and figures for each of its lines."""

CUT_ROOF = """\
id = "cut-roof"
title = "Cut roof"
form = "cut-roof"

[[fact]]
name = "building"
kind = "text"
says = "The roof, block by block"
asked = true

[[fact]]
name = "line_taped"
kind = "length"
says = "as taped"
each = "sides ties"

[[fact]]
name = "taped"
kind = "ties"
says = "Plates as taped"
gathers = "line_taped"

[[sum]]
id = "side"
calculator = "building"
inputs = { building = "@building", ties = "@taped" }
each = "sides ties"
gives = { line_length = "sides.line.length" }

[[sum]]
id = "line"
calculator = "building"
inputs = { building = "@building", ties = "@taped" }
each = "lines"
gives = { line_length = "named_lines.line.length", line_pitch = "named_lines.line.pitch" }

[[sum]]
id = "block"
calculator = "building"
inputs = { building = "@building", ties = "@taped" }
each = "blocks lean-tos dormers"
gives = { block_run = "blocks.block.run_1" }

[[stage]]
id = "plates"
title = "Wall plates"
hold = true

[[stage.check]]
id = "taped"
ask = "Sides and ties, outside faces, mm"
kind = "measure"
sources = ["practice"]

[[stage.check.figure]]
key = "side"
kind = "length"
says = "side"
drawn = "@line_length"
sets = "line_taped"
each = "sides"

[[stage.check.figure]]
key = "tie"
kind = "length"
says = "tie"
drawn = "@line_length"
sets = "line_taped"
each = "ties"

[[stage]]
id = "ridge"
title = "Ridge and commons"
short = "ridge"
each = "blocks"

[[stage.check]]
id = "run"
ask = "Run of the first pair, mm"
kind = "measure"
figure = "length"
drawn = "@block_run"
limit = { rule = "within", amount = 5, origin = "house", source = "practice" }
sources = ["practice"]

[[stage.check]]
id = "level"
ask = "Fall from end to end, mm"
kind = "measure"
figure = "offset"
each = "ridges"
sources = ["practice"]

[[stage]]
id = "hips"
title = "Hips"
short = "hips"
each = "blocks"

[[stage.check]]
id = "line"
ask = "Length of the string, mm"
kind = "measure"
figure = "length"
drawn = "@line_length"
limit = { rule = "within", amount = 5, origin = "house", source = "practice" }
each = "hips"
sources = ["practice"]

[[stage.check]]
id = "fixed"
ask = "Photograph head and foot, fixed"
kind = "photo"
each = "hips"
needs = ["line"]
sources = ["practice"]

[[stage]]
id = "valley"
title = "Valley"
short = "valley"
each = "valleys"

[[stage.check]]
id = "line"
ask = "Length of the string, mm"
kind = "measure"
figure = "length"
drawn = "@line_length"
limit = { rule = "within", amount = 5, origin = "house", source = "practice" }
needs = ["ridge.run"]
sources = ["practice"]

[[stage]]
id = "last"
title = "For the tiler"

[[stage.check]]
id = "photo"
ask = "Photograph the roof"
kind = "photo"
sources = ["practice"]
"""
