"""Whatever is done to a good file, the loader tells its faults and never breaks."""

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitelog.checklist.load import Faults, load
from sitelog.text import clean
from tests.checklist.small import FILES, write

PIECES = st.sampled_from(
    [
        "[[stage]]", "[[stage.check]]", "[[stage.check.figure]]", "[[fact]]", "[[sum]]", "[stage]", "[[", "]]",
        "{", "}", '"', "'", '"""', "#", "=", ",", "\n", "\\", "@", ".", "-1", "1e400", "nan", "true", "[]", "{}",
        '""', '"job"', '"@job.x"', '"half"', '"not"', 'when = "a is b"', 'limit = { rule = "most" }',
        'figure = "length"', "inputs = { a = [] }", "x.y.z = 1", "2020-01-01", "0x" + "f" * 600, "\u202e", "\x00",
    ]
)  # fmt: skip


@st.composite
def mutated(draw: st.DrawFn) -> tuple[str, str]:
    """A file of the small set with some stretches cut, doubled, moved or written over."""
    name = draw(st.sampled_from(sorted(FILES)))
    text = FILES[name]
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 60)))
        put = draw(PIECES | st.just(text[start:end] * 2) | st.just("") | st.text(max_size=5))
        text = text[:start] + put + text[end:]
    return name, text


@st.composite
def swapped(draw: st.DrawFn) -> tuple[str, str]:
    """A file whose TOML stays good: values of lines are swapped for others, lines cut or doubled."""
    name = draw(st.sampled_from(sorted(FILES)))
    rows = FILES[name].split("\n")
    values = ["1", "-3.5", "true", "[]", "{}", '""', '"x"', '"@x"', "[1]", '["a", "a"]', "[{}]", "[[]]", "1e300"]
    values += [row.partition(" = ")[2] for row in rows if " = " in row]
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(rows) - 1))
        key, equals, _value = rows[at].partition(" = ")
        rows[at] = f"{key} = {draw(st.sampled_from(values))}" if equals else draw(st.sampled_from(["", rows[at]]))
    return name, "\n".join(rows)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(mutated() | swapped())
def test_a_spoilt_file_is_loaded_or_told(case: tuple[str, str]) -> None:
    name, text = case
    with TemporaryDirectory() as folder:
        write(Path(folder))
        (Path(folder) / f"{name}.toml").write_text(text, encoding="utf-8", errors="surrogatepass", newline="")
        try:
            load(shipped=Path(folder))
        except Faults as faults:
            lines = text.count("\n") + 1
            for fault in faults.faults:
                file, line, what = fault.removeprefix(folder).split(":", 2)
                assert 1 <= int(line) <= max(lines, 200)
                assert what == f" {clean(what)}"
                assert file.endswith(".toml") or "no list has form" in what
