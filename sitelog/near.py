"""Which of the known names a wrong one was meant to be."""

from collections.abc import Iterable

LONGEST = 200  # letters of a wrong name that are looked at: a flood of them would take for ever


def closest(word: str, known: Iterable[str], likeness: float = 0.6) -> str:
    """The known name that is most like the word, or "". `likeness` is how like it must be: 0 anything, 1 the same."""
    from difflib import get_close_matches  # costs a start more than all else here, and few need it

    return next(iter(get_close_matches(word[:LONGEST], list(known), 1, likeness)), "")


def did_you_mean(near: str, otherwise: str) -> str:
    """The hint of a refusal: the name that was meant, or another hint where none is near."""
    if near:
        return f"did you mean {near}?"
    return otherwise
