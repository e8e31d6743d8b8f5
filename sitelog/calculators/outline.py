"""The outline of a thing as data: points in order round it, so that drawing, template and CSV share one form."""

from collections.abc import Iterable

from sitelog.calculators.catalogue import Output, Row


def outline_output(says: str, x: str = "X", y: str = "Y") -> Output:
    """The result `outline`: rows n, x, y [mm], anticlockwise; the last point joins to the first."""
    return Output("outline", "", says, (Output("n", "", "Point"), Output("x", "mm", x), Output("y", "mm", y)))


def outline_rows(points: Iterable[tuple[float, float]]) -> list[Row]:
    """Points [mm] as the rows of an outline, numbered from 1."""
    return [{"n": n, "x": x, "y": y} for n, (x, y) in enumerate(points, start=1)]
