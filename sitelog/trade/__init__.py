"""The calculators as functions for other programs, typed: `from sitelog.trade import common`.

Each takes mm, degrees, kg and counts by keyword and gives a `Worked`, whose results are attributes in the units that
__init__.pyi says beside each. Raises Refusal when an input is missing, unknown or can't be. `sitelog calc NAME --help`
tells the same of one. `python -m tests.stubs` writes __init__.pyi from the calculators.
"""

from sitelog.trade.worked import Function, Worked, function_named

__all__ = ["Worked"]


def __getattr__(name: str) -> Function:
    if name.startswith("__"):
        raise AttributeError(name)
    return function_named(name)
