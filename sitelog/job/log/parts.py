"""What stands under a key of an entry, as far as it is what was looked for: a file may hold anything there."""

from collections.abc import Mapping, Sequence
from typing import Any


def mapping(value: Any) -> Mapping[str, Any]:
    """The value if it is a mapping; none of it if it is not."""
    if not isinstance(value, Mapping):
        return {}
    return value


def items(value: Any) -> Sequence[Any]:
    """The value if it is a list; none of it if it is not."""
    if not isinstance(value, list):
        return ()
    return value
