"""A camera number is found again alone or in a range, as people write it on site."""

import pytest

from sitelog.job.photos.camera import numbers_in


def shared(typed: str, before: str) -> list[str]:
    return [found for one in numbers_in(typed) for other in numbers_in(before) if (found := one.shared(other))]


@pytest.mark.parametrize(
    ("typed", "before", "found"),
    [
        ("IMG_2201", "img_2201.jpg", ["IMG_2201"]),
        ("0412", "0412, 0413", ["0412"]),
        ("2232", "2230 to 2234", ["2232"]),
        ("2232", "2230-2234", ["2232"]),
        ("2232", "2230 – 2234, at the ridge", ["2232"]),
        ("2232", "2230..2234", ["2232"]),
        ("2232", "2230-34", ["2232"]),
        ("IMG_2232", "IMG_2230 to IMG_2234", ["IMG_2232"]),
        ("IMG_2232", "IMG_2230.JPG to IMG_2234.JPG", ["IMG_2232"]),
        ("img_2232", "IMG_2230-2234", ["img_2232"]),
        ("2230 to 2234", "2232", ["2232"]),
        ("0098 to 0102", "0100", ["0100"]),
        ("2230 to 2234", "2233-2240", ["2233 to 2234"]),
        ("2230-2234, 2250", "2250 and 2231", ["2231", "2250"]),
        ("DSC-0412", "DSC-0412", ["DSC-0412"]),
        ("0412-a", "0412-A", ["0412-a"]),
        ("2235", "2230 to 2234", []),
        ("2232", "IMG_2230 to IMG_2234", []),  # of another camera, for all that is known
        ("20261125-073211", "73000", []),  # a day and an hour
        ("IMG-20261125-WA0001", "IMG-20261125-WA0002", []),
        ("12 to 14", "13", []),  # it may be anything
        ("2234 to 2230", "2232", []),
    ],
)
def test_numbers_that_two_names_share(typed: str, before: str, found: list[str]) -> None:
    assert sorted(shared(typed, before)) == found
