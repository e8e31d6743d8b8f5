"""What is to be known of an answer besides its state: which marks a check bears, the same in every list of checks."""

from msgspec import Struct

from sitelog.job.state.views import CheckView


class Flag(Struct, frozen=True):
    """`short` stands under the state's word in a row, so it is 11 letters at most; `words` where there is room."""

    short: str
    words: str


AT_ONCE = Flag("at once", "ticked within a second of the last one")
LATE = Flag("late", "recorded late")


def flags(view: CheckView) -> tuple[Flag, ...]:
    """The marks of the check, what weighs most first."""
    borne = (
        (view.rivals, Flag("two answers", "two answers differ")),
        (view.doubted, Flag("bad tool", f"{view.instrument} later marked bad")),
        (view.at_once, AT_ONCE),
        (view.late, LATE),
    )
    return tuple(flag for found, flag in borne if found)
