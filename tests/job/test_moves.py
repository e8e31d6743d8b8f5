"""When an answer goes out of date: its verdict is another, or what it rests on moved by more than timber is cut to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.job.facts.moves import moved, verdict_moved


@pytest.mark.parametrize(
    ("then", "now", "unit", "is_moved"),
    [
        (4112, 4114, "mm", False),
        (4112, 4114.1, "mm", True),
        (35, 35.1, "deg", False),
        (35, 35.11, "deg", True),
        (18, 19, "", True),  # a count
        ("lead", "copper", "", True),
        (70.0, 70.5, "m2", False),
        (70.0, 71.0, "m2", True),
        ([1000, 2000], [1000, 2002], "mm", False),
        ([1000, 2000], [1000], "mm", True),
        ({"x": 1, "y": 2}, {"x": 1, "y": 5}, "mm", True),
        (4112, None, "mm", True),
        (True, False, "", True),
    ],
)
def test_a_figure_moves_by_more_than_a_saw_s_cut(then: object, now: object, unit: str, is_moved: bool) -> None:
    assert moved(then, now, unit) is is_moved


@given(st.floats(-1e5, 1e5), st.floats(-1e5, 1e5), st.floats(0.1, 20))
def test_it_is_the_same_looked_at_from_either_side(then: float, now: float, cutting: float) -> None:
    assert moved(then, now, "mm", cutting) == moved(now, then, "mm", cutting)


def test_an_answer_that_kept_no_verdict_was_good() -> None:
    assert not verdict_moved({}, {"@verdict": {"word": "pass"}})
    assert verdict_moved({}, {"@verdict": {"word": "fail"}})
    assert not verdict_moved({"@verdict": {"word": "fail"}}, {"@verdict": {"word": "fail"}})
    assert not verdict_moved({"@verdict": {"word": "pass"}}, {}), "there is no limit any more"
