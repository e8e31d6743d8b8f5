"""What a tape, a level and an eye read on the rest of the sample site, by part, stage, check and figure. Invented.

Heights of the first former are by hand: Pythagoras on its radius of 957, 582 high; the line on the slope is those
over the sine of 35 degrees.
"""

from collections.abc import Mapping

from tests.tui.walker import CHOSEN, READ

SITE_READ: Mapping[str, Mapping[str, str]] = READ | {
    "main.openings.wanted": {"width": "1150", "depth": "1500", "foot": "900", "trimmer": "47"},
    "dormer.cheeks.plumb": {"left": "1", "right": "2"},
    "dormer.formers.heights": {"readings": "371,534,582,534,371"},
    "dormer.standing.apart": {"left": "650", "crown": "651", "right": "650"},
    "dormer.bearers.noggins": {"bearing": "25", "missing": "0"},
    "dormer.line.set-out": {"first": "90", "thickness": "47"},
    "dormer.line.points": {"readings": "646,931,1015,931,646"},
    "dormer.line.fair": {"value": "1"},
    "dormer.closing.fall-60": {"value": "1:40"},
    "dormer.deck.fixings": {"edge": "140", "field": "280"},
    "dormer.deck.moisture": {"value": "15"},
    "dormer.next.cheeks": {"left_height": "490", "left_slope": "855", "right_height": "491", "right_slope": "856"},
    "dormer.next.apron": {"up": "150", "down": "180"},
    "dormer.next.fixed-points": {"sill": "1100", "crown": "3000"},
    "deck.deck.thick": {"value": "18"},
    "deck.deck.gaps": {"wall": "28", "edge": "5"},
    "deck.deck.ends": {"bearing": "23", "stagger": "600"},
    "deck.deck.fixings": {"edge": "145", "field": "190", "long": "60"},
    "deck.deck.dry": {"value": "14"},
    "deck.edges.upstand": {"value": "160"},
    "deck.edges.gaps": {"clear": "60", "gap": "25"},
    "deck.firrings.low-edge": {"readings": "1180,1181,1181,1180"},
    "gutter.seats.joints": {"crossed": "5", "between": "2"},
    "gutter.sole.drips": {"step": "55"},
    "gutter.sole.boards": {"thick": "20", "gap": "4"},
    "gutter.outlets.overflow": {"outlets": "79", "overflow": "150"},
    "gutter.outlets.overflow-carries": {"outlets": "2.0", "overflow": "2.6"},
    "gutter.outlets.sill": {"value": "30"},
    "gutter.outlets.upstand": {"value": "160"},
    "gutter.outlets.lay-board": {"value": "240"},
    "gutter.cover.log": {"readings": "1400,1350,1300,1250,1200"},
    "gutter.cover.dry": {"value": "16"},
}
SITE_CHOSEN = CHOSEN | {"openings.any": 2}
