"""Every key there is: one table for the footer, the help, the palette and the bindings."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from textual.binding import Binding, BindingType


@dataclass(frozen=True)
class Key:
    """`keys` as Textual names them; `shown` as the foreman reads it; `places` are the screens that have it."""

    act: str
    keys: str
    shown: str
    word: str
    says: str
    places: tuple[str, ...]
    footer: bool = True


ENTERING = ("facts", "journal", "snags", "instruments", "handover")  # lists from which something can be entered
LISTS = (*ENTERING, "photos", "calculators", "timber", "drawing", "sources", "lists", "help")
# Lists whose row is told whole beneath them.
TELLING = (*ENTERING, "photos", "calculators", "timber", "sources", "lists")
FORMS = ("field", "sum", "new-job", "caution", "find", "palette")

# The acts that are the program's own and not a screen's carry its name: app.theme, app.quit.
KEYS: tuple[Key, ...] = (
    Key("do", "enter", "enter", "do", "Do this check, or sign this stage", ("job",)),
    Key("stage(-1)", "left_square_bracket,left", "[", "stage", "The stage before", ("job",), footer=False),
    Key("stage(1)", "right_square_bracket,right", "[ ]", "stage", "The stage after", ("job",)),
    Key("next", "space", "space", "next", "Go to the next thing to do", ("job",)),
    Key(
        "measure",
        "m",
        "m",
        "measure again",
        "Do the check again; the old answer is kept",
        ("job",),
        footer=False,
    ),
    Key("note", "n", "n", "note", "Add a note to this check", ("job",)),
    Key("snag", "s", "s", "snag", "Raise a snag on this check", ("job",)),
    Key("photo", "p", "p", "photo", "Attach a photo, or note its camera number", ("job",), footer=False),
    Key(
        "release",
        "r",
        "r",
        "release",
        "Carry on as it is, with your name and a reason",
        ("job",),
        footer=False,
    ),
    Key(
        "skip",
        "x",
        "x",
        "not applicable",
        "Mark as not applicable and say why",
        ("job",),
        footer=False,
    ),
    Key(
        "defer",
        "l",
        "l",
        "later",
        "Leave until a later stage and say why",
        ("job",),
        footer=False,
    ),
    Key("cautions", "o", "o", "cautions", "Read the cautions of this stage", ("job",), footer=False),
    Key("accept", "enter", "enter", "save", "Save the form", ("check",)),
    Key("accept", "enter", "enter", "next", "Next field; on the last one, save", ("field",)),
    Key("accept", "enter", "enter", "work it", "Work it out", ("sum",)),
    Key(
        "answer",
        "down",
        "down",
        "to the answer",
        "Go to the answer, where the letter keys work again",
        ("field", "sum"),
    ),
    Key("working", "w", "w", "working", "Show or hide the working", ("job", "check", "calculator")),
    Key(
        "drawing", "d", "d", "drawing", "Show the drawing of this check, or of the roof", ("job", "check", "calculator")
    ),
    Key("whole", "z", "z", "all of it", "Read the whole panel below", ("job", *TELLING), footer=False),
    Key("facts", "f", "f", "figures", "All figures, drawn and built", ("job",), footer=False),
    Key("sources", "e", "e", "sources", "Where these limits and cautions come from", ("job",), footer=False),
    Key("timber", "g", "g", "cutting list", "Cutting list and what to buy", ("job",), footer=False),
    Key("photos", "v", "v", "photos", "All photos", ("job",), footer=False),
    Key("calculators", "c", "c", "calculators", "Use any calculator", ("job",), footer=False),
    Key("journal", "j", "j", "diary", "Site diary", ("job",), footer=False),
    Key("snags", "k", "k", "snag list", "All the snags", ("job",), footer=False),
    Key(
        "instruments",
        "i",
        "i",
        "tools",
        "Tapes and levels, and what was measured with each",
        ("job",),
        footer=False,
    ),
    Key(
        "lists",
        "equals_sign",
        "=",
        "lists",
        "What newer checklists change in this job, and earlier checks",
        ("job",),
        footer=False,
    ),
    Key("handover", "h", "h", "hand over", "Handover points and the pack", ("job",), footer=False),
    Key("change", "enter", "enter", "change", "Change a drawing figure", ("facts",)),
    Key("go", "g", "g", "its check", "Go to its check", ("facts", "snags", "instruments", "handover")),
    Key("go", "enter,g", "enter", "its check", "Go to the check that the photo shows", ("photos",)),
    Key("bring", "enter", "enter", "update", "Use the newest checklists in this job", ("lists",)),
    Key("buy", "enter", "enter", "what to buy", "Work out what to buy and how to cut it", ("timber",)),
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
    Key("pack", "p", "p", "make the pack", "Make the pack for the next trade", ("handover",)),
    Key("turn(-1)", "left", "<-", "drawing", "The drawing before", ("drawing",), footer=False),
    Key("turn(1)", "space,right", "space", "next drawing", "The next drawing of this part", ("drawing",)),
    Key("words", "s", "s", "sizes in words", "The sizes of the drawing in words, or the drawing again", ("drawing",)),
    Key("turn", "space,left,right", "space", "points", "Switch between handover points and open items", ("handover",)),
    Key("open", "enter", "enter", "open", "Open the job", ("jobs",)),
    Key("new", "n", "n", "new job", "Set up a new job", ("jobs",)),
    Key("undo", "u", "u", "undo", "Undo the last entry; both stay in the record", ("job", *ENTERING)),
    Key("find", "slash", "/", "find", "Find a check, a note or a snag", ("job",)),
    Key("who", "y", "y", "your name", "Change whose name goes on entries", ("job",), footer=False),
    Key("acts", "a", "a", "all commands", "Find any command by name", ("job", *LISTS)),
    Key("app.theme", "t", "t", "theme", "Light or dark screen", ("job", "jobs", *LISTS), footer=False),
    Key("help", "question_mark,f1", "?", "help", "What every key does", ("job", "jobs", *LISTS)),
    Key(
        "back",
        "escape,b",
        "b",
        "back",
        "Go back; what you typed is kept",
        ("check", "calculator", "working", "whole", "job", *LISTS),
    ),
    Key("accept", "enter", "enter", "next", "Go to the next field; from the last, set the job up", ("new-job",)),
    Key("accept", "enter", "enter", "save", "Save the answer under your name", ("caution",)),
    Key("accept", "enter", "enter", "go", "Go there, or do it", ("find", "palette")),
    # Where every letter belongs to a field, only the key that no field takes can leave it.
    Key("back", "escape", "esc", "back", "Leave the form; what was typed is kept", FORMS),
    Key("app.quit", "q", "q", "quit", "Quit; everything is already saved", ("jobs", "recap")),
    Key("app.quit", "q", "q", "quit", "Quit; everything is already saved", ("job",), footer=False),
)


def keys_of(place: str) -> Iterator[Key]:
    return (key for key in KEYS if place in key.places)


def bindings(place: str) -> list[BindingType]:
    """The bindings of a screen, from the table."""
    return [Binding(key.keys, key.act, key.word, show=False) for key in keys_of(place)]


def footer(place: str, *, without: Collection[str] = ()) -> str:
    """The footer's line: each key held to its word by no-break spaces; without the acts named."""
    together = str.maketrans(" ", "\N{NO-BREAK SPACE}")
    shown = [key for key in keys_of(place) if key.footer and key.act not in without]
    return "  ".join(f"{key.shown} {key.word}".translate(together) for key in shown)
