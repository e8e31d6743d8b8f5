"""A file that is no checklist is refused in one line, whatever it is."""

import os
from pathlib import Path

import pytest

from sitelog.checklist.load import Faults, lint, load
from tests.checklist.small import JOB, write

SHOULD_BE_TOLD: list[tuple[str, bytes, int, str]] = [
    ("an equals sign left out", b'id = "a"\n\ntitle "b"\n', 3, "isn't TOML: Expected '='"),
    ("a key twice", b'id = "a"\nid = "b"\n', 2, "isn't TOML: Cannot overwrite a value"),
    ("a text not closed", b'id = "a"\ntitle = "b\n', 2, "isn't TOML: Illegal character"),
    ("a list not closed at the end", b'id = "a"\nstage = [\n', 2, "isn't TOML"),
    ("a raw escape character", b'id = "\x1b[2J"\n', 1, "isn't TOML: Illegal character"),
    ("a lone surrogate", b'id = "\\ud800"\n', 1, "isn't TOML"),
    ("a day that is none", b"id = 2024-13-45\n", 1, "isn't TOML"),
    ("Latin-1", b'id = "a"\n# \xb0\n', 2, "the byte 0xb0 isn't UTF-8; save the file as UTF-8"),
    ("UTF-16", "id".encode("utf-16"), 1, "isn't UTF-8"),
    ("nothing but noughts", b"\0" * 900, 1, "isn't TOML"),
    ("deep nesting on one line", b"x = " + b"[" * 990, 1, "nested too deep"),
    ("deep nesting on many lines", b"x = " + b"[\n" * 50_000, 1, "nested too deep"),
    ("an endless key", b"a." * 100_000 + b"a = 1\n", 1, "the line has 200005 characters"),
    ("facts without end", b'id = "a"\n' + b"[[fact]]\n" * 600, 2, "fact has 600 items; 500 is the most"),
    ("a key of more parts than any table has", b"a." * 101 + b"a = 1\n", 1, "the line has 101 dots; 100 is the most"),
    ("keys without end", b"".join(b"k%d = 1\n" % n for n in range(501)), 1, "this table has 501 keys; 500 is the most"),
    ("a file beyond all bounds", b"#" * (1 << 20) + b"\n", 1, "over 256 kB"),
]


@pytest.mark.parametrize(
    ("raw", "line", "words"), [case[1:] for case in SHOULD_BE_TOLD], ids=[case[0] for case in SHOULD_BE_TOLD]
)
def test_a_broken_file_is_told_with_its_line(tmp_path: Path, raw: bytes, line: int, words: str) -> None:
    shipped = write(tmp_path / "shipped")
    bad = tmp_path / "bad.toml"
    bad.write_bytes(raw)
    (told,) = (one for one in lint([bad], shipped=shipped) if words in one)
    assert told.startswith(f"{bad}:{line}: ")
    assert told.isprintable()


def test_where_a_file_cant_be_read_that_alone_is_told(tmp_path: Path) -> None:
    """What leans on it would all be told as missing, and to prove the rest takes long."""
    shipped = write(tmp_path / "shipped")
    bad = tmp_path / "hipped.toml"
    bad.write_bytes(b"id = \n")
    assert len(lint([bad], shipped=shipped)) == 1
    with pytest.raises(Faults) as refused:
        load([tmp_path], shipped=shipped)
    assert len(refused.value.faults) == 1


def test_what_is_no_file_is_refused_in_one_line(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "loop.toml").symlink_to(tmp_path / "loop.toml")
    cases = [
        (Path("/dev/zero"), "isn't a plain file"),
        (tmp_path / "pipe.toml", "isn't a plain file"),
        (tmp_path / "loop.toml", "can't be read"),
        (tmp_path / "none.toml", "can't be read (No such file or directory)"),
        (tmp_path / ("long" * 100), "can't be read"),
        (tmp_path / "nul\0.toml", "can't be read"),
    ]
    for path, words in cases:
        (told,) = lint([path], shipped=shipped)
        assert words in told
        assert told.isprintable()


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_without_rights_is_refused_in_one_line(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    (tmp_path / "shut.toml").touch(mode=0)
    (told,) = lint([tmp_path / "shut.toml"], shipped=shipped)
    assert "can't be read (Permission denied)" in told


def test_a_folder_in_a_file_s_place_and_a_folder_without_files_are_told(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    (tmp_path / "firm" / "list.toml").mkdir(parents=True)
    (tmp_path / "empty").mkdir()
    with pytest.raises(Faults) as caught:
        load([tmp_path / "firm", tmp_path / "empty"], shipped=shipped)
    empty, folder = caught.value.faults
    assert "no TOML file is here" in empty
    assert "this isn't a plain file" in folder


def test_hidden_files_of_editors_are_passed_over(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    (shipped / ".#job.toml").write_text("not a list")
    assert load(shipped=shipped).forms() == ("hipped",)


def test_a_byte_order_mark_and_windows_line_ends_are_taken(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    (shipped / "job.toml").write_bytes(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode())
    assert load(shipped=shipped).lists["job"].title == "Whole job"
