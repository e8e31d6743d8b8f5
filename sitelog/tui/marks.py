"""How a state is told: a glyph, a word and the name of a shade, with a plain-letter set for plain terminals."""

from dataclasses import dataclass

from sitelog.job.views import CheckState, StageState


@dataclass(frozen=True)
class Mark:
    """`shade` names a colour of the themes in look.py; the word and the glyph tell the same without it."""

    glyph: str
    ascii: str
    word: str
    shade: str = "foreground"

    def sign(self, ascii_only: bool) -> str:
        return self.ascii if ascii_only else self.glyph


CHECK: dict[CheckState, Mark] = {
    "open": Mark("·", ".", "open", "quiet"),
    "done": Mark("√", "v", "done"),
    "out": Mark("×", "X", "OUT", "out"),
    "unsure": Mark("?", "?", "TOO CLOSE", "unsure"),
    "snagged": Mark("Δ", "*", "snagged", "snag"),
    "released": Mark("=", "=", "released", "let-go"),
    "not applicable": Mark("–", "-", "not applicable", "quiet"),
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
