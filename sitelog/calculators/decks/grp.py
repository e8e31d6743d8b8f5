"""How a deck is boarded for GRP laid in place, and what to ask of the day before resin goes down."""

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.decks.boarding import Boarding, Laid
from sitelog.calculators.decks.flat_rule import FALL, flat, kind_of_fall, verdict_on, warned
from sitelog.calculators.timber.weights import lifting_caution
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

_WIDEST_JOISTS = 600.0  # mm; the same manual, and NHBC Standards 2020, 7.1.4 Table 1 (read)
_BOARD_KG = 11.52  # kg/m2 of 18 mm OSB at 640 kg/m3 (a web table of panel weights, read)
_LONGEST = 50_000.0  # mm; past any deck that is laid by hand
_MOST_AREA = 50.0  # m2; a warranty body, as a technical blog gives it

# The pattern of the joints. GRP installer's manual p. 9, a supplier's guide to boards, the panel guide (all read).
_RULES = (
    ("board", "18 mm OSB3 tongue and groove, joint's open side up", "manual p. 9"),
    ("long edges", "across the joists", "manual p. 9"),
    ("ends", "on a joist, 20 mm bearing each", "panel guide"),
    ("stagger", "ends 400 apart, off-cut starts the next row", "manual p. 9"),
    ("fixings", "ring shank, 40 into the joists, 200 apart", "manual p. 9"),
    ("at walls", "25 (panel guide: 10, or 2 per metre if more)", "manual p. 9"),
    ("square edges", "supported and bandaged; joints may show", "board guide"),
)
# What to ask before the first tin is opened. Installers' guides (read); the two from memory say so.
_QUESTIONS = (
    ("deck and air, degrees C", "5 to 35, until it has set", "read"),
    ("deck dry right through", "yes; at most 18 % (memory)", "read"),
    ("dry hours to come", "the work, plus 60 minutes to set", "read"),
    ("catalyst, % (drum label first)", "29+: 1, 21+: 2, 13+: 3, 6-12: 4", "read"),
    ("topcoat after 14:00 in winter", "only if it stays dry and mild", "read"),
    ("deck above the dew point", "at least 3 C", "memory"),
    ("humidity", "under 85 %", "memory"),
)


class GrpDeckInputs(Inputs):
    """What `grp-deck` takes: lengths in mm."""

    length: float = field("length", "length of the deck across its joists, along the boards", over=0, high=_LONGEST)
    width: float = field("length", "width of the deck, the way its joists run", over=0, high=_LONGEST)
    fall: float = FALL
    kind: str = kind_of_fall("finished")
    spacing: float = field("length", "joist centres", default=400, low=100)
    sheet_length: float = field("length", "length of a board", default=2400, over=0, high=6000)
    sheet_width: float = field("length", "width a board covers", default=600, low=300)


@calculator(
    "grp-deck",
    GrpDeckInputs,
    branch="coverings",
    does="Boards and joints of a GRP deck, its fall, and the checks for the day",
    results=(
        Output("area", "m2", "area of the deck"),
        Output("sheets", "", "boards to open"),
        Output("sheet_mass", "kg", "weight of a board, dry"),
        Output(
            "rows",
            "",
            "rows of boards",
            (
                Output("n", "", "row"),
                Output("first", "mm", "first board"),
                Output("between", "", "whole boards between"),
                Output("last", "mm", "last board"),
                Output("opened", "", "new boards"),
            ),
        ),
        Output(
            "rules",
            "",
            "joints and fixings",
            (Output("rule", "", "what"), Output("figure", "", "figure"), Output("source", "", "source")),
        ),
        Output(
            "questions",
            "",
            "before resin goes down",
            (
                Output("n", "", "no"),
                Output("ask", "", "ask"),
                Output("wanted", "", "wanted"),
                Output("standing", "", "standing"),
            ),
        ),
    ),
    basis="GRP installers' and panel guides; fall by BS 6229:2018, second hand",
    definition=(
        "Boards run across the joists. The first joist is at the end they start from, and every board ends on a "
        "joist, at least 400 from the ends in the next row. The layout leaves no end under 400 and uses off-cuts "
        "where it can; a row of one board doesn't have a last. Pass or fail is on the fall: 1:80 when finished, or "
        "1:40 as drawn. Follow the resin maker's figures before any here."
    ),
    example="length=7000 width=3600 fall=1:80",
)
def grp_deck(given: GrpDeckInputs) -> Outcome:
    """Rows of boards in mm, area in m2, mass in kg. Raises Refusal for joists too far apart for the board."""
    slope = flat("grp-deck", given.fall)
    if given.spacing > _WIDEST_JOISTS:
        raise Refusal(
            f"grp-deck: spacing is {as_typed(given.spacing)}; joists under an 18 mm board are at most "
            f"{as_typed(_WIDEST_JOISTS)} apart"
        )
    working = Working()
    area = working.step("area", "length / 1000 * width / 1000", "m2", length=given.length, width=given.width)
    count = whole(given.width / given.sheet_width)
    if count > MOST_ROWS:
        raise Refusal(
            f"grp-deck: width is {as_typed(given.width)}; that is {count} rows of boards, and {MOST_ROWS} is the most"
        )
    working.note("rows_of_boards", "width over a board's cover, rounded up", count, "")
    boards = Boarding(given.sheet_length, given.spacing)
    working.note("usable_length", "length of a board, back to the last joist it reaches", boards.usable)
    laid = boards.rows(given.length, count)
    rows = [_row(n, row) for n, row in enumerate(laid, 1)]
    sheets = working.note("sheets", "boards to be cut into", sum(row.opened for row in laid), "")
    numbers = {"sheet_length": given.sheet_length, "sheet_width": given.sheet_width, "mass_per_m2": _BOARD_KG}
    mass = working.step("sheet_mass", "sheet_length / 1000 * sheet_width / 1000 * mass_per_m2", "kg", **numbers)
    return Outcome(
        {
            "area": area,
            "sheets": sheets,
            "sheet_mass": mass,
            "rows": rows,
            "rules": [{"rule": rule, "figure": figure, "source": source} for rule, figure, source in _RULES],
            "questions": [
                {"n": n, "ask": ask, "wanted": wanted, "standing": standing}
                for n, (ask, wanted, standing) in enumerate(_QUESTIONS, 1)
            ],
        },
        working,
        verdict=verdict_on(slope, given.kind),
        cautions=("grp-resin", "wind-sheets", *lifting_caution(mass)),
        notes=(*warned(slope, given.kind), *_large(area)),
    )


def _large(area: float) -> tuple[str, ...]:
    if area <= _MOST_AREA:
        return ()
    return (
        f"One warranty body allows GRP straight on timber up to {as_typed(_MOST_AREA)} m2 only (a technical "
        "blog): ask yours first",
    )


def _row(n: int, laid: Laid) -> Row:
    first, *rest = laid.boards
    return {
        "n": n,
        "first": first,
        "between": max(len(rest) - 1, 0),
        "last": rest[-1] if rest else None,
        "opened": laid.opened,
    }
