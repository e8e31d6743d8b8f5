"""What the program can do stands in its README."""

import re

from tests import docs


def test_every_command_and_calculator_stands_in_the_readme() -> None:
    text = docs.README.read_text(encoding="utf-8")
    assert text == docs.written(text), "run `python -m tests.docs`"


def test_the_start_is_two_blocks_of_one_line_each() -> None:
    start = docs.README.read_text(encoding="utf-8").partition("## Start")[2].partition("\n## ")[0]
    blocks = re.findall(r"```sh\n(.*?)```", start, flags=re.S)
    assert [block.count("\n") for block in blocks] == [1, 1]


def test_every_picture_of_the_readme_is_there() -> None:
    text = docs.README.read_text(encoding="utf-8")
    names = re.findall(r"!\[[^]]*\]\(([^)]+)\)", text)
    assert names
    assert all((docs.README.parent / name).is_file() for name in names)
