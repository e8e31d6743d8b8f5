"""A sum that may take long: worked away from the screen, which says how far it is, and ended by Esc with the best."""

from collections.abc import Callable, Mapping

from textual import work
from textual.timer import Timer
from textual.worker import Worker, get_current_worker

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.timber.cutting.watch import Progress, Watch, watched_by
from sitelog.calculators.timber.planning import told
from sitelog.calculators.timber.stock_rows import STOPPED
from sitelog.refusal import Refusal
from sitelog.tui.widgets.site_page import SitePage

WORKING = "Working ... Press Esc to stop with the best so far."
STOPPING = "Stopping with the best so far ..."
WAS_STOPPED = "Stopped early: this is the best so far. Press Enter to work it out in full."
EACH = 0.2  # seconds between two looks at how far it is


class Onlooker(Watch):
    """Keeps what it heard last; stops when it is asked to, or when nobody waits for the answer any more."""

    def __init__(self) -> None:
        self.last: Progress | None = None
        self.stopped = False
        self.worker: Worker[None] | None = None

    def hear(self, progress: Progress) -> None:
        """Keep it for the next look."""
        self.last = progress

    def should_stop(self) -> bool:
        """Asked by the plan, in its own thread."""
        return self.stopped or bool(self.worker and self.worker.is_cancelled)

    def lines(self) -> list[str]:
        """How far it is."""
        return [STOPPING if self.stopped else WORKING, *([told(self.last)] if self.last else [])]


class SolvingPage(SitePage[None]):
    """A page with such a sum; what it works out, and how that is shown, are its own."""

    solving: Onlooker | None = None
    _looks: Timer | None = None

    def worked(self, texts: Mapping[str, str], standing: Mapping[str, Value]) -> tuple[list[str], Answer]:
        """The answer, and what is said before it; touches nothing on the screen. Refusal where there is none."""
        raise NotImplementedError

    def tell(self, before: list[str], answer: Answer) -> None:
        """Show them."""
        raise NotImplementedError

    def refuse(self, why: str) -> None:
        """Show why there is no answer."""
        raise NotImplementedError

    def show_lines(self, lines: list[str]) -> None:
        """Show these lines in place of an answer."""
        raise NotImplementedError

    def solve(self, texts: Mapping[str, str], standing: Mapping[str, Value]) -> None:
        """Work it out away from the screen, which stays awake; what has been asked again since is not shown."""
        self.abandon()
        self.solving = Onlooker()
        self._look()
        self._looks = self.set_interval(EACH, self._look)
        self.show_foot()
        self._work_behind(self.solving, texts, standing)

    def abandon(self) -> None:
        """Wait for no answer any more."""
        if self._looks:
            self._looks.stop()
        if self.solving:
            self.workers.cancel_group(self, "sum")
            self.solving = None
            self.show_foot()

    def action_back(self) -> None:
        """Stop with the best so far, where one is worked; else leave the page."""
        if self.solving is None:
            super().action_back()
            return
        self.solving.stopped = True
        self._look()

    def _look(self) -> None:
        if self.solving:
            self.show_lines(self.solving.lines())

    @work(thread=True, exclusive=True, group="sum")
    def _work_behind(self, watch: Onlooker, texts: Mapping[str, str], standing: Mapping[str, Value]) -> None:
        watch.worker = get_current_worker()
        try:
            with watched_by(watch):
                before, answer = self.worked(texts, standing)
        except Refusal as refusal:
            self._from_behind(self.refuse, refusal.message)
        else:
            self._from_behind(self.tell, [*([WAS_STOPPED] if STOPPED in answer.notes else []), *before], answer)

    def _from_behind(self, show: Callable[..., None], *what: object) -> None:
        if not get_current_worker().is_cancelled:
            self.app.call_from_thread(self._while_open, show, *what)

    def _while_open(self, show: Callable[..., None], *what: object) -> None:
        if self.is_mounted:
            self.solving = None
            self.abandon()
            self.show_foot()
            show(*what)
