"""Takes single figures and rows out of an answer, with their types proved."""

from sitelog.calculators.catalogue import Answer, Row
from sitelog.calculators.setting_out.plates import CORNERS, adjusted, six
from sitelog.geometry.least_squares import Point


def figure(answer: Answer, name: str) -> float:
    value = answer.results[name]
    assert isinstance(value, (int, float))
    return float(value)


def figures(answer: Answer, *names: str) -> list[float]:
    return [figure(answer, name) for name in names]


def rows(answer: Answer, name: str) -> list[Row]:
    value = answer.results[name]
    assert isinstance(value, list)
    return value


def cell(row: Row, name: str) -> float:
    value = row[name]
    assert isinstance(value, (int, float))
    return float(value)


def column(answer: Answer, table: str, name: str) -> list[float]:
    return [cell(row, name) for row in rows(answer, table)]


def row_of(answer: Answer, table: str, **keys: str) -> Row:
    """The one row of a table with those words."""
    (found,) = (row for row in rows(answer, table) if all(row[key] == value for key, value in keys.items()))
    return found


def corners(ab: float, bc: float, cd: float, da: float, ac: float, bd: float) -> dict[str, Point]:
    """Corners A to D [mm] that fit six taped lengths [mm] best, as the calculator `squareness` gives them."""
    plates = adjusted(six(ab, bc, cd, da, ac, bd), "II")
    return {name: plates.points[name] for name in CORNERS}


def as_printed(answer: Answer, printed: str) -> None:
    """Each figure of `printed`, name and figure in turn, to half of its last digit.

    A name is a result's, or `rows[n].column` with n counted from 0.
    """
    words = printed.split()
    for path, told in zip(words[::2], words[1::2], strict=True):
        name, _, rest = path.partition("[")
        found = answer.results[name]
        if rest:
            nth, column = rest.split("].")
            found = rows(answer, name)[int(nth)][column]
        if told == "-":
            assert found is None, path
            continue
        assert isinstance(found, (int, float)), path
        half = 0.5 * 10 ** -len(told.partition(".")[2])
        assert abs(found - float(told)) <= half * (1 + 1e-6), f"{path}: {found}, printed {told}"
