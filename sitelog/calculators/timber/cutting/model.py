"""The order as HiGHS has it: a row a piece or a stick on site, a column a cutting. One thread, a fixed seed."""

import highspy
import numpy as np

from sitelog.calculators.timber.cutting.order import NEW, Cutting, Order


class Solver(highspy.Highs):
    """HiGHS, silent and the same every time."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self.setOptionValue("output_flag", False)
        self.setOptionValue("parallel", "off")
        self.setOptionValue("threads", 1)
        self.setOptionValue("random_seed", 0)

    def enableCallbacks(self) -> None:  # noqa: N802
        """Left out: none are used, and setting them prints a banner before it can be turned off."""


def covering(order: Order) -> Solver:
    """A row a piece, at least as many as wanted; a row a stick on site, at most as many as there are."""
    solver = Solver()
    none = (np.empty(0, dtype=np.int32), np.empty(0))
    for count in order.counts:
        solver.addRow(float(count), highspy.kHighsInf, 0, *none)
    for count in order.site_counts:
        solver.addRow(-highspy.kHighsInf, float(count), 0, *none)
    return solver


def add_column(solver: Solver, order: Order, cutting: Cutting) -> None:
    """A column a cutting, at its cost in steps."""
    entries = list(cutting.pattern)
    if cutting.site != NEW:
        entries.append((len(order.counts) + cutting.site, 1))
    rows = np.array([row for row, _ in entries], dtype=np.int32)
    counts = np.array([float(count) for _, count in entries])
    solver.addCol(order.cost(cutting) / order.step, 0.0, highspy.kHighsInf, len(rows), rows, counts)
