"""The old name of `sitelog.calculators.index`."""

from sitelog.calculators.index import WHERE, calculators, find

__all__ = ["WHERE", "calculators", "find"]
