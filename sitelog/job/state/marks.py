"""How a state is shown, the same everywhere: a mark, its plain letter, a word, and the name of a shade."""

from msgspec import Struct

from sitelog.job.state.views import CheckState, CheckView, StageState


class Mark(Struct, frozen=True):
    """`shade` names a colour of themes.py in tui; the word and the glyph tell the same without it."""

    glyph: str
    ascii: str
    word: str
    shade: str = "foreground"

    def sign(self, ascii_only: bool) -> str:
        """What is shown: the glyph, or its plain letter."""
        if ascii_only:
            return self.ascii
        return self.glyph


CHECK: dict[CheckState, Mark] = {
    "open": Mark("·", ".", "open", "quiet"),
    "done": Mark("√", "v", "done"),
    "out": Mark("×", "X", "OUT", "out"),
    "unsure": Mark("?", "?", "TOO CLOSE", "unsure"),
    "snagged": Mark("Δ", "*", "snagged", "snag"),
    "released": Mark("=", "=", "released", "let-go"),
    "not applicable": Mark("–", "-", "n/a", "quiet"),
    "stale": Mark("~", "~", "OUT OF DATE", "unsure"),
    "deferred": Mark("»", "/", "later", "unsure"),
}
STAGE: dict[StageState, Mark] = {
    "open": Mark(" ", " ", "open", "quiet"),
    "waiting": Mark(" ", " ", "waiting", "quiet"),
    "done": Mark("√", "v", "done"),
    "signed": Mark("√", "v", "signed"),
    "released": Mark("=", "=", "released", "let-go"),
}
HOLD = Mark("■", "#", "HOLD", "hold")
CAUTION = Mark("!", "!", "caution", "out")
HERE = Mark("›", ">", "here")
RULE = Mark("─", "-", "")
MORE = Mark("…", "+", "more")  # "~" would read as stale


def state_word(view: CheckView) -> str:
    """The word for how a check stands. One that leaves nobody more than somebody's word is ticked, not done."""
    if view.state == "unsure" and view.refusal:
        return "NOT JUDGED"  # nobody has agreed its limit, or it waits for a figure: no tape would help
    ticked = view.state == "done" and not view.check.evidence
    if ticked:
        return "ticked"
    return CHECK[view.state].word
