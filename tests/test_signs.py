"""The signs of a page that is hard to read don't get worse. Where one would make a page worse, it is named here."""

from pathlib import Path

import pytest

from tests.measure import Signs, largest_circle, signs

PACKAGE = Path(__file__).parents[1] / "sitelog"
MOST_BRANCHES = 11


@pytest.fixture(scope="module")
def package() -> Signs:
    return signs(PACKAGE)


def test_few_functions_have_over_ten_branches_and_none_over_eleven(package: Signs) -> None:
    assert len(package.over(10)) <= 13, sorted(package.over(10), reverse=True)
    assert package.over(MOST_BRANCHES) == []


def test_a_page_branches_no_more_than_it_did_and_seldom_inside_a_line(package: Signs) -> None:
    """In 100 lines of code. A comprehension counts as a branch: formulas over rows are most of them."""
    assert 100 * package.branch / package.code <= 27.0
    assert 100 * package.inline / package.code <= 2.5


def test_a_file_is_read_in_one_sitting(package: Signs) -> None:
    assert sum(package.lines) / len(package.lines) <= 130
    assert sum(count > 300 for count in package.lines) <= 1, "the table of actions is one table"


def test_a_signature_can_be_taken_in_at_a_glance(package: Signs) -> None:
    assert [row for row in package.params if row[0] > 7] == []


def test_what_others_call_says_what_it_does(package: Signs) -> None:
    assert package.docs >= 0.95 * package.publics


def test_files_hardly_import_each_other_in_a_circle() -> None:
    assert largest_circle(PACKAGE) <= 3


def test_a_page_of_branches_and_short_names_is_found_out(tmp_path: Path) -> None:
    """By hand: 1, the if, its inline if, the for with its if, `and`: 6 branches; four parameters; no docstring."""
    (tmp_path / "page.py").write_text(
        "def f(a, b, *, c, d):\n    if a and b:\n        return 1 if c else 2\n    return [x for x in d if x]\n"
    )
    found = signs(tmp_path)
    assert found.branching == [(6, "page.py:f")]
    assert found.params == [(4, "page.py:f")]
    assert (found.code, found.branch, found.inline, found.docs, found.publics) == (4, 5, 1, 0, 1)
    assert found.names == [1, 1, 1, 1, 1]
