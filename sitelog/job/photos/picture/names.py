"""The kinds of picture that are taken, and what their files are called."""

from typing import Literal

Kind = Literal["jpeg", "png", "webp"]
EXTENSION: dict[Kind, str] = {"jpeg": "jpg", "png": "png", "webp": "webp"}
