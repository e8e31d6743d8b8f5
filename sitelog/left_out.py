"""What stands for a figure that was left out."""

from typing import TypeVar

T = TypeVar("T")


def given_or(value: T | None, otherwise: T) -> T:
    """What was given; another where it was left out."""
    if value is None:
        return otherwise
    return value
