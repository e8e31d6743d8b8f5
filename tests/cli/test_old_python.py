"""A Python that is too old gets one line that says so."""

import ast
import runpy
import sys
from pathlib import Path

import pytest

import sitelog.__main__ as program

TEXT = Path(program.__file__).read_text(encoding="utf-8")


def test_an_old_python_can_read_what_says_that_it_is_too_old() -> None:
    """Grammar of 3.7, the oldest that this check of the standard library knows."""
    ast.parse(TEXT, feature_version=(3, 7))


def test_an_old_python_is_told_which_one_is_needed_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 18, "final", 0))
    with pytest.raises(SystemExit) as caught:
        runpy.run_path(program.__file__, run_name="__main__")
    assert caught.value.code == 2
    assert (
        capsys.readouterr().err
        == "sitelog needs Python 3.11 to 3.13; this is 3.9. Run it with python3.11, for example.\n"
    )
