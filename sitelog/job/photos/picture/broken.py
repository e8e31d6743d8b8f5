"""The one error of a picture: it is not whole, or not what it begins as. It goes on from the file's name."""

from collections.abc import Iterable
from itertools import islice
from typing import TypeVar

T = TypeVar("T")

MOST_PARTS = 65_536  # a picture of 20 MiB has some thousands; one made to fill the memory has millions


class Broken(Exception):
    """Words that follow a file's name, such as "breaks off"."""


BREAKS_OFF = "stops before its end: copy it again from the camera"


def parts(found: Iterable[T]) -> list[T]:
    """All the parts of a picture. Raises Broken where there are more than any picture has."""
    held = list(islice(found, MOST_PARTS + 1))
    if len(held) > MOST_PARTS:
        raise Broken("is in too many parts to be a photo")
    return held
