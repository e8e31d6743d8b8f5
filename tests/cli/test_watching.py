"""How far an order is on the terminal, and Ctrl-C: stopped once with the best so far, broken off the second time."""

import io
import signal
import sys

import pytest

from sitelog.calculators.timber.cutting.watch import Progress, current_watch, is_watched
from sitelog.cli.watching import STOPPED, watching
from tests.calculators.hard_sets import triplets
from tests.cli.conftest import Say, say

__all__ = ["say"]


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    found = Terminal()
    monkeypatch.setattr(sys, "__stderr__", found)
    return found


def test_each_step_is_written_over_the_last_and_cleared(terminal: Terminal) -> None:
    with watching():
        current_watch().hear(Progress(96_000, 90_000, "47x150"))
    assert terminal.getvalue() == "\r\x1b[K47x150: 9.6 m so far, at least 9.0 m. Ctrl-C stops here\r\x1b[K"
    assert not is_watched()


def test_nothing_is_written_where_there_is_no_terminal(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = io.StringIO()
    monkeypatch.setattr(sys, "__stderr__", plain)
    with watching():
        current_watch().hear(Progress(96_000, 90_000, "47x150"))
    assert plain.getvalue() == capsys.readouterr().err == ""


def test_ctrl_c_stops_the_plan_and_says_so_and_twice_breaks_off(capsys: pytest.CaptureFixture[str]) -> None:
    before = signal.getsignal(signal.SIGINT)
    with watching():
        assert not current_watch().should_stop()
        signal.raise_signal(signal.SIGINT)
        assert current_watch().should_stop()
    assert capsys.readouterr().err == f"sitelog: {STOPPED}\n"
    with pytest.raises(KeyboardInterrupt), watching():
        signal.raise_signal(signal.SIGINT)
        signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


def test_a_stopped_order_is_whole_and_says_that_it_was_stopped(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sixty pieces that fill twenty sticks of 1000 to the last mm: no plan by hand finds that."""
    pytest.importorskip("highspy", reason="highspy is not installed (extra `order`)")
    cuts = ",".join(f"47x150:{length}mm:{count}" for length, count in triplets(60, 0).wanted.items())
    words = ("calc", "stock", f"cuts={cuts}", "lengths=1000", "kerf=0")
    looks = iter(range(1_000))

    def hear(*_: object) -> None:
        if next(looks) == 2:
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("sitelog.calculators.timber.planning._Named.hear", hear)
    stopped = say(*words)
    assert stopped.code == 0
    assert STOPPED in stopped.err
    assert "note: stopped early: this is the best plan found until then" in stopped.out
    assert "another plan may buy less, by at most" in stopped.out
