"""A folder, a device, a pipe, a socket or a link that goes nowhere, named as a job, a checklist or a place to write."""

import contextlib
import os
import socket
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.hostile.fronts import say
from tests.hostile.jobs import job
from tests.hostile.refused import COMMANDS, put, refused, refused_by_the_screens

pytestmark = pytest.mark.skipif(os.name == "nt", reason="devices, pipes and links of POSIX")


def _folder(path: Path) -> None:
    path.mkdir()


def _socket(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as made, contextlib.chdir(path.parent):  # the path of a socket must be short
        made.bind(path.name)


def _to_itself(path: Path) -> None:
    path.symlink_to(path.name)


def _to(target: str) -> Callable[[Path], None]:
    return lambda path: path.symlink_to(target)


KINDS: dict[str, Callable[[Path], None]] = {
    "a folder": _folder,
    "a pipe that nobody writes": os.mkfifo,
    "a socket": _socket,
    "a link to itself": _to_itself,
    "a link to nothing": _to("nowhere"),
    "a link to a device without end": _to("/dev/zero"),
    "a link to a terminal": _to("/dev/tty"),
    "a link to a folder": _to("/"),
}


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
def test_what_is_no_plain_file_is_refused_unread(tmp_path: Path, make: Callable[[Path], None]) -> None:
    file = tmp_path / "job.json"
    make(file)
    for words in COMMANDS:
        if file.is_dir() and "open" in words:
            continue  # the jobs in it are listed: tests/cli/test_open.py
        said = say(*put(words, file))
        assert said.code in (2, 3), (words, said)
        assert said.in_one_line, (words, said)


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
async def test_what_is_no_plain_file_falls_no_screen_over(tmp_path: Path, make: Callable[[Path], None]) -> None:
    make(tmp_path / "job.json")
    await refused_by_the_screens(tmp_path / "job.json", "job.json", "No jobs here.")


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
def test_what_is_no_plain_file_is_no_checklist(tmp_path: Path, make: Callable[[Path], None]) -> None:
    path = tmp_path / "list.toml"
    make(path)
    said = say("lint", path)
    assert said.code in (1, 2), said
    assert (said.out + said.err).strip()


@pytest.mark.parametrize("make", [make for name, make in KINDS.items() if name != "a link to nothing"])
def test_a_new_job_is_put_over_none_of_them(tmp_path: Path, make: Callable[[Path], None]) -> None:
    file = tmp_path / "job.json"
    make(file)
    part = ("--part", "main:hipped", "main.length=9000", "main.width=6000", "main.pitch=35")
    said = say("new", file, "--title", "Barn", *part, "--by", "M. Reed")
    assert said.code in (2, 4), said
    assert said.in_one_line, said


def test_a_job_behind_a_link_is_the_job_and_the_link_stays(tmp_path: Path) -> None:
    real = job(tmp_path, lambda words: words)
    link = tmp_path / "link.json"
    link.symlink_to(real)
    assert say("note", link, "main.plates", "through the link", "--by", "M. Reed").code == 0
    assert link.is_symlink()
    assert b"through the link" in real.read_bytes()


def test_a_pack_is_not_written_through_a_link_or_over_a_folder(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: words)
    kept = tmp_path / "kept.txt"
    kept.write_text("kept")
    out = tmp_path / "pack"
    out.mkdir()
    (out / "job-record.txt").symlink_to(kept)
    (out / "job-record.html").mkdir()
    said = say("handover", file, "--to", "tiler", "--by", "M. Reed", "--out", out)
    assert said.code in (2, 4), said
    assert said.in_one_line, said
    assert kept.read_text() == "kept"


@pytest.mark.parametrize("head", [b"PK\x03\x04", b"\x1f\x8b\x08\x00", b"BZh9", b"\xfd7zXZ\x00", b"ustar\x00" * 60])
def test_an_archive_is_no_job_and_nothing_is_unpacked(tmp_path: Path, head: bytes) -> None:
    """No archive is ever opened here: a job, a list and a pack are plain files in plain folders."""
    file = tmp_path / "job.json"
    file.write_bytes(head + b"../../escaped" + bytes(4096))
    refused(file, "job.json")
    assert [path.name for path in tmp_path.iterdir() if not path.name.endswith(".files")] == ["job.json"]
