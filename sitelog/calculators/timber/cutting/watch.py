"""Who looks on while a plan is made: how near it has got, and whether to leave it there."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from msgspec import Struct


class Progress(Struct, frozen=True):
    """What the best plan so far costs and the bound so far, in what the order costs in; and whose order it is.

    `priced`: that is in hundredths of money, and not in tenths of a millimetre.
    """

    cost: int
    bound: int
    subject: str = ""
    priced: bool = False


class Watch:
    """One who hears nothing and never stops a plan; others override both."""

    def hear(self, progress: Progress) -> None:
        """Called when a better plan or a better bound is found."""

    def should_stop(self) -> bool:
        """Asked many times a second; once True, the best plan so far is the plan."""
        return False


_watching: ContextVar[Watch] = ContextVar("watch")


@contextmanager
def watched_by(watch: Watch) -> Iterator[None]:
    """Every plan that is made inside is watched by that one."""
    token = _watching.set(watch)
    try:
        yield
    finally:
        _watching.reset(token)


def current_watch() -> Watch:
    """Who watches here."""
    return _watching.get(Watch())


def is_watched() -> bool:
    """Whether somebody watches here, and so may stop a plan before its time."""
    return _watching.get(None) is not None
