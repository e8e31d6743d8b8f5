"""Every key there is, for the footer, the help, the palette and the bindings.

Those of the job come from the table of actions; here stand those that only one form or one list has.
"""

from collections.abc import Collection, Iterable, Iterator

from msgspec import Struct
from textual.binding import Binding, BindingType

from sitelog.wording.actions.kinds import Action
from sitelog.wording.actions.table import ALWAYS, WORK

STEP = {"down": 1, "up": -1}  # lines down, by the key
LEAVE_HELP = "This is the help. Press esc or b to go back."


class Key(Struct, frozen=True):
    """`keys` as Textual names them; `shown` as the foreman reads it; `places` are the screens that have it."""

    act: str
    keys: str
    shown: str
    word: str
    says: str
    places: tuple[str, ...]
    footer: bool = True


def _of(actions: Iterable[Action]) -> Iterator[Key]:
    for action in actions:
        if key := action.key:
            yield Key(action.act, key.keys, key.shown, action.label, action.says, key.places, key.footer)


FORMS = ("field", "sum", "new-job", "block", "caution", "find", "palette")
KEYS: tuple[Key, ...] = (
    Key("accept", "enter", "enter", "save", "Save the form", ("check",)),
    Key("accept", "enter", "enter", "next", "Next field; on the last one, save", ("field",)),
    Key("accept", "enter", "enter", "work out", "Work it out", ("sum",)),
    Key(
        "answer",
        "down",
        "down",
        "to the answer",
        "Go down to the answer; letter keys work there",
        ("field", "sum"),
    ),
    *_of(WORK),
    Key("change", "enter", "enter", "change", "Change a drawing figure", ("facts",)),
    Key("go", "g", "g", "its check", "Go to its check", ("facts", "snags", "instruments", "handover")),
    Key("go", "enter,g", "enter", "its check", "Go to the check that the photo shows", ("photos",)),
    Key("bring", "enter", "enter", "update", "Use the newest checklists in this job", ("lists",)),
    Key("tally", "enter", "enter", "count", "Count pieces that are cut, up or spoiled", ("timber",)),
    Key("buy", "o", "o", "what to buy", "Work out what to buy and how to cut it", ("timber",)),
    Key("pick", "enter", "enter", "open", "Open the calculator", ("calculators",)),
    Key("day(-1)", "left_square_bracket,left", "[", "day", "The day before", ("journal",), footer=False),
    Key("day(1)", "right_square_bracket,right", "[ ]", "day", "The day after", ("journal",)),
    Key("write('weather')", "w", "w", "weather", "Write the weather of the day", ("journal",)),
    Key("write('people')", "e", "e", "people", "Write who was on the site", ("journal",)),
    Key("write('deliveries')", "d", "d", "deliveries", "Write what was delivered", ("journal",)),
    Key("write('delays')", "l", "l", "delays", "Write any delays", ("journal",)),
    Key("write('text')", "n", "n", "note", "Write any other note", ("journal",)),
    Key("photo", "p", "p", "photo", "Attach a photo to the page of the day", ("journal",)),
    Key("close", "enter", "enter", "fixed", "Close the snag: it is fixed", ("snags",)),
    Key("raise", "s", "s", "snag", "Raise a snag on the job in general", ("snags",)),
    Key(
        "doubt",
        "enter",
        "enter",
        "mark bad",
        "Mark this tool bad: everything measured with it is flagged",
        ("instruments",),
    ),
    Key("register", "n", "n", "new", "Add a tool to the list", ("instruments",)),
    Key("point", "enter", "enter", "accept", "Accept the point for the next trade", ("handover",)),
    Key("send_back", "r", "r", "send back", "Send the point back (raises a snag)", ("handover",)),
    Key("page('replies')", "n", "n", "replies", "Replies found, and answers from paper by number", ("handover",)),
    Key("reply", "enter", "enter", "save it", "Save that reply, or the answers off that pack", ("replies",)),
    Key("pack", "p", "p", "make the pack", "Make the pack for the next trade", ("handover",)),
    Key("make", "enter", "enter", "make it", "Make the sheets, or an SVG or DXF file", ("templates",)),
    Key("turn(-1)", "left", "<-", "drawing", "The drawing before", ("drawing",), footer=False),
    Key("turn(1)", "space,right", "space", "next drawing", "The next drawing of this part", ("drawing",)),
    Key("words", "s", "s", "in words", "The sizes of the drawing in words, or the drawing again", ("drawing",)),
    Key("turn", "space,left,right", "space", "points", "Switch between handover points and open items", ("handover",)),
    Key("change", "enter", "enter", "open", "Change the block, or add one", ("building",)),
    Key("remove", "r,delete", "r", "remove", "Take the block away", ("building",)),
    Key("step_back", "u", "u", "undo", "Undo the last change of the roof", ("building",)),
    Key("drawing", "d", "d", "drawings", "Every drawing of the roof", ("building",)),
    Key("open", "enter", "enter", "open", "Open the job", ("jobs",)),
    Key("new", "n", "n", "new job", "Set up a new job", ("jobs",)),
    *_of(ALWAYS),
    Key("accept", "enter", "enter", "next", "Go to the next field; from the last, set the job up", ("new-job",)),
    Key(
        "next_blank",
        "pagedown",
        "pgdn",
        "next blank",
        "Leave these as they are, and go to the next blank",
        ("new-job",),
    ),
    Key("accept", "enter", "enter", "next", "Go to the next field; from the last, put the block in", ("block",)),
    Key("accept", "enter", "enter", "save", "Save the answer under your name", ("caution",)),
    Key("accept", "enter", "enter", "go", "Go there, or do it", ("find", "palette")),
    # Where every letter belongs to a field, only the key that no field takes can leave it.
    Key("back", "escape", "esc", "back", "Leave the form; what was typed is kept", FORMS),
    Key("back", "escape", "esc", "stop with the best so far", "Stop, and show the best so far", ("solving",)),
    Key("accept", "enter", "enter", "go on", "Go on under that name; a digit does too", ("recap",)),
    Key("back", "escape", "esc", "back", "Back, with nobody's name changed", ("recap",)),
    Key("app.quit", "q", "q", "quit", "Quit; everything is already saved", ("jobs", "recap")),
)
PRESSED = {key.shown: key.keys.partition(",")[0] for key in KEYS}  # what a finger on the footer presses
TOGETHER = "\N{NO-BREAK SPACE}"


def keys_of(place: str) -> Iterator[Key]:
    """The keys of a screen, in the order of the footer and the help."""
    return (key for key in KEYS if place in key.places)


def bindings(place: str) -> list[BindingType]:
    """The bindings of a screen, from the table."""
    return [Binding(key.keys, key.act, key.word, show=False) for key in keys_of(place)]


def footer(place: str, *, without: Collection[str] = ()) -> str:
    """The footer's line; without the acts named."""
    shown = [key for key in keys_of(place) if key.footer and key.act not in without]
    return foot_of(*(f"{key.shown} {key.word}" for key in shown))


def foot_of(*keys: str) -> str:
    """A footer's line of these, such as "enter save": each key held to its word by no-break spaces."""
    return "  ".join(key.replace(" ", TOGETHER) for key in keys)


def key_at(line: str, column: int) -> str:
    """The key that is named at that column of a footer's line, as Textual names it; "" between them."""
    if line[column : column + 1] in ("", " "):
        return ""
    start = line.rfind(" ", 0, column) + 1
    words = line[start:].partition(" ")[0].replace(TOGETHER, " ")
    shown = max((one for one in PRESSED if words.startswith(f"{one} ")), key=len, default="")
    return PRESSED.get("[" if line[column] == "[" else shown, "")
