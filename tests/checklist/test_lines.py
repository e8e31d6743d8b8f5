"""Every key and table of a TOML text is found at its line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.checklist.schema.lines import Path, line_of, lines

TEXT = '''\
id = "a"            # line 1
why = """
[[stage]]           # no header: it stands in a text
ask = "no key either"
"""
"quoted key" = 'a # is no comment'
when = 1979-05-27 07:32:00

[[stage]]           # 9
id = "one"
  [[stage.check]]   # 11
  ask = "x"
  choices = [       # 13
    { id = "a", label = "[b]" },
    { id = "b", label = "}" },   # 15
  ]
  limit = { rule = "most", amount = 3 }
  [stage.check.more]             # 18
  deep.down = 1                  # 19
  [[stage.check]]   # 20
  ask = """five quotes"""""
  why = "22"

[[stage]]           # 24
check = [{ id = "inline" }]
[stage.sub]         # 26
x = true
'''

PLACES: list[tuple[Path, int]] = [
    (("id",), 1),
    (("why",), 2),
    (("quoted key",), 6),
    (("when",), 7),
    (("stage", 0), 9),
    (("stage", 0, "id"), 10),
    (("stage", 0, "check", 0), 11),
    (("stage", 0, "check", 0, "choices"), 13),
    (("stage", 0, "check", 0, "choices", 0, "label"), 14),
    (("stage", 0, "check", 0, "choices", 1), 15),
    (("stage", 0, "check", 0, "limit", "amount"), 17),
    (("stage", 0, "check", 0, "more"), 18),
    (("stage", 0, "check", 0, "more", "deep", "down"), 19),
    (("stage", 0, "check", 1), 20),
    (("stage", 0, "check", 1, "ask"), 21),
    (("stage", 0, "check", 1, "why"), 22),
    (("stage", 1), 24),
    (("stage", 1, "check", 0, "id"), 25),
    (("stage", 1, "sub", "x"), 27),
]


@pytest.mark.parametrize(("path", "line"), PLACES)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_key_is_found_at_its_line(path: Path, line: int, end: str) -> None:
    assert lines(TEXT.replace("\n", end))[path] == line


def test_what_has_no_line_stands_at_the_table_around_it() -> None:
    found = lines(TEXT)
    assert line_of(("stage", 0, "check", 1, "missing", 4), found) == 20
    assert line_of(("nothing",), found) == 1


VALUES = st.sampled_from(
    ["1", '"a"', "'#'", "[1, 2]", "{ a = 1 }", '"""\n[x]\ny = 1\n"""', "[\n  1, # ]\n  [2],\n]", "'''\n'''"]
)


@given(st.lists(st.tuples(st.integers(0, 2), VALUES), max_size=12))
def test_blank_lines_and_values_of_many_lines_shift_no_key(keys: list[tuple[int, str]]) -> None:
    text, line = "", 1
    expected: dict[Path, int] = {}
    for number, (blank, value) in enumerate(keys):
        text += "\n" * blank + f"k{number} = {value}\n"
        expected[(f"k{number}",)] = line + blank
        line += blank + value.count("\n") + 1
    found = lines(text)
    assert {path: found.get(path) for path in expected} == expected
