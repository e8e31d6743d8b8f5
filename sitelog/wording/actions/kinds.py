"""What an action is: what it is called and says, and how each front has it."""

from __future__ import annotations

TYPE_CHECKING = False  # see flags.py
if TYPE_CHECKING:
    from sitelog.wording.actions.flags import Flag

# Lists from which something can be entered.
ENTERING = ("facts", "journal", "snags", "instruments", "handover", "replies", "timber")
LISTS = (*ENTERING, "photos", "calculators", "drawing", "templates", "sources", "lists", "building", "help")
# Lists whose row is told whole beneath them.
TELLING = (*ENTERING, "photos", "calculators", "templates", "sources", "lists")


class OnScreen:
    """`keys` as Textual names them; `shown` as the foreman reads it; `places` are the screens that have it."""

    def __init__(self, keys: str, shown: str = "", *, places: tuple[str, ...] = ("job",), footer: bool = False) -> None:
        self.keys = keys
        self.shown = shown or keys
        self.places = places
        self.footer = footer


class InLines:
    """In line mode it is called by its label. `says` only where that is not what the screens say.

    `letter` is short for it: the key's own, where that is one letter. `also` is what it was called before: still
    understood.
    """

    def __init__(self, says: str = "", *, letter: str = "", also: str = "") -> None:
        self.says = says
        self.letter = letter
        self.also = also


class Command:
    """A command: what it does, an example, and the function (`module:function` in sitelog/cli) that does it.

    Without a function it answers its action's prompt: `answers` are the flags that hold the answers, in order, and
    `done` is what is said then, with {flags} in it.
    """

    def __init__(
        self, name: str, does: str, example: str, act: str = "keep.acts:asked", flags: tuple[Flag, ...] = ()
    ) -> None:
        self.name = name
        self.does = does
        self.example = example
        self.act = act
        self.flags = flags
        self.answers: tuple[str, ...] = ()
        self.done = ""

    def answering(self, *answers: str, done: str) -> Command:
        """This command, with what it answers its action's prompt."""
        self.answers = answers
        self.done = done
        return self


class Action:
    """One thing that can be done: the method `action_NAME` of the page, and an entry of `DOES` in lines/actions.py.

    `label` is what both call it, `says` what it does.
    """

    def __init__(
        self,
        name: str,
        label: str,
        says: str,
        *,
        key: OnScreen | None = None,
        line: InLines | None = None,
        command: Command | None = None,
    ) -> None:
        self.name = name
        self.label = label
        self.says = says
        self.key = key
        self.line = line
        self.command = command

    @property
    def act(self) -> str:
        """What the key calls on its page, as Textual writes it."""
        return self.name


class Asking(Action):
    """One that asks for words and enters an act: that of its name in `ASKED` of wording/prompts/prompts.py."""

    @property
    def act(self) -> str:
        """What the key calls on its page, as Textual writes it."""
        return f"ask('{self.name}')"


class Opening(Action):
    """One that opens a page: the screen of its name in tui/registry.py, and `PAGES` of lines/pages/index.py."""

    @property
    def act(self) -> str:
        """What the key calls on its page, as Textual writes it."""
        return f"page('{self.name}')"
