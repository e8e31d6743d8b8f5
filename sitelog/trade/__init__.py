"""The old name of `sitelog.calculators`, kept for the scripts that import `find` from it."""
