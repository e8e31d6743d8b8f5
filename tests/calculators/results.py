"""Takes single figures and rows out of an answer, with their types proved."""

from sitelog.calculators.catalogue import Answer, Row


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
