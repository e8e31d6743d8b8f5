"""The program itself in plain mode: in a pipe, on a dumb terminal, interrupted, held by another, on a full disk."""

import errno
import os
import pty
import re
import select
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from time import monotonic

import pytest

import sitelog
from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.wording.prompts.asking import read_first
from tests.lines.listener import ScriptedInput, answer_to, walked
from tests.tui.site import DEVICE, Watch

PROGRAM = (sys.executable, "-m", "sitelog")
SECONDS = 60.0  # that the program is waited for; nothing is measured by it
CONTROL = re.compile(rb"[\x00-\x09\x0b-\x1f\x7f]")


def ticked(file: Path, library: Library) -> list[str]:
    """What is said to tick a check of the plates: an answer to each caution that stops comes before it."""
    with Job.open(file, library, read_only=True) as job:
        stage = job.state.stage("main.plates")
        assert stage
        cautions = read_first(stage, stage.cautions, job.state)
    assert len(cautions) >= 3
    return ["main.plates.ends", "do", *map(answer_to, cautions), "1"]


def piped(file: Path, says: Sequence[str], *more: str) -> "subprocess.CompletedProcess[bytes]":
    words = [*PROGRAM, "open", str(file), "--plain", "--by", "M. Reed", *more]
    heard = "".join(f"{line}\n" for line in says).encode()
    return subprocess.run(words, input=heard, capture_output=True, timeout=SECONDS, env={**os.environ, **ENV})


ENV = {"SITELOG_DEVICE": DEVICE, "PYTHONPATH": str(Path(sitelog.__file__).parents[1])}


def acts(file: Path) -> list[str]:
    return [entry.act for entry in JobFile.open(file, read_only=True).entries]


def test_in_a_pipe_every_line_is_plain_and_fits_72_columns(plates: Path, library: Library) -> None:
    done = piped(plates, [*ticked(plates, library), "note", "caf\u00e9 \x1b[31mred\x07", "facts", "back", "quit"])
    assert done.returncode == 0, done.stderr
    assert not CONTROL.search(done.stdout.replace(b"\n", b""))
    assert max(map(len, done.stdout.decode().split("\n"))) <= 72
    assert acts(plates)[-4:] == ["read", "read", "answer", "note"]
    assert verify(plates) == []


def test_the_end_of_what_is_said_leaves_the_job_with_all_that_was_entered(plates: Path, library: Library) -> None:
    done = piped(plates, ticked(plates, library))
    assert (done.returncode, acts(plates)[-1]) == (0, "answer")
    assert not (plates.parent / f"{plates.name}.files" / "journal").exists(), "the file was closed"


def test_at_any_question_the_end_loses_nothing_that_was_entered(plates: Path, library: Library, watch: Watch) -> None:
    """The figures said so far stand to be taken the next time."""
    says = ["main.plates.sides", "do", "8996", "6003"]
    assert walked(plates, library, ScriptedInput(says), watch) == 0
    listener = ScriptedInput(["main.plates.sides", "do"])
    walked(plates, library, listener, watch)
    assert "You typed 8996 before and did not save it. Press Enter to keep it." in listener.text


def test_interrupted_the_job_is_closed_and_the_exit_code_says_so(
    plates: Path, library: Library, request: pytest.FixtureRequest
) -> None:
    """Also where these tests run in the background, whose programs begin with interrupts ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    request.addfinalizer(lambda: signal.signal(signal.SIGINT, before))
    words = [*PROGRAM, "--plain", "open", str(plates), "--by", "M. Reed"]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env={**os.environ, **ENV}) as program:
        assert program.stdin and program.stdout
        program.stdin.write("".join(f"{line}\n" for line in [*ticked(plates, library), "snag", "the mortar"]).encode())
        program.stdin.flush()
        for line in program.stdout:  # to its end, if the question never comes
            if b"Who will fix it?" in line:
                break
        program.send_signal(signal.SIGINT)
        assert program.wait(SECONDS) == 130
    assert acts(plates)[-1] == "answer"
    assert verify(plates) == []


@pytest.mark.parametrize("kind", ["dumb", "", "unknown"])
def test_a_terminal_that_can_not_move_its_cursor_gets_lines_without_asking(plates: Path, kind: str) -> None:
    child, line = pty.fork()
    if child == 0:
        os.environ.update(ENV, TERM=kind)
        os.execv(sys.executable, [*PROGRAM, "open", str(plates), "--by", "M. Reed"])
    seen = b""
    os.write(line, b"drawing\nquit\n")
    end = monotonic() + SECONDS
    while monotonic() < end:
        if select.select([line], [], [], 0.2)[0]:
            try:
                more = os.read(line, 65_536)
            except OSError as error:  # the other end of a terminal is closed with an error
                assert error.errno == errno.EIO
                break
            if not more:
                break
            seen += more
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    assert b"Where this job" not in seen
    assert b"Mill barn" in seen
    assert seen.isascii(), "plain letters"
    # The terminal itself ends each line with a return; nothing else drives it.
    assert not CONTROL.search(seen.replace(b"\r\n", b""))


def test_nothing_heavy_is_loaded_to_open_a_job_and_answer_a_check(plates: Path, library: Library) -> None:
    script = (
        "import sys; from sitelog.cli.run import run\n"
        f"code = run(['--plain', 'open', {str(plates)!r}, '--by', 'M. Reed'])\n"
        "print(code, [name for name in ('textual', 'rich', 'pint', 'asyncio') if name in sys.modules], file=sys.stderr)"
    )
    heard = "".join(f"{line}\n" for line in [*ticked(plates, library), "drawing", "journal", "back", "quit"])
    done = subprocess.run(
        [sys.executable, "-c", script], input=heard, capture_output=True, text=True, timeout=SECONDS,
        env={**os.environ, **ENV},
    )  # fmt: skip
    assert done.stderr.strip() == "0 []"
    assert acts(plates)[-1] == "answer"


def test_a_job_that_another_holds_is_opened_to_read_and_nothing_can_be_entered(
    plates: Path, library: Library, watch: Watch
) -> None:
    memory, hand = machines_own(), Author(by="A. Dunn", device="tablet01", now=watch())
    with Job.open(plates, library, author=hand, memory=memory):
        before = len(acts(plates))
        listener = ScriptedInput(["main.plates.ends", "do", "note", "undo", "drawing", "hand over", "1", "quit"])
        assert walked(plates, library, listener, watch, memory=memory) == 0
        told = [line for line in listener.heard if line.startswith("Read only: ")]
        assert len(told) >= 4
        assert "A. Dunn on tablet01" in told[0]
        assert len(acts(plates)) == before


def test_a_file_that_is_no_job_is_refused_in_one_line(tmp_path: Path) -> None:
    file = tmp_path / "barn.json"
    file.write_text("{}")
    done = piped(file, ["quit"])
    assert (done.returncode, done.stdout) == (3, b"")
    assert done.stderr.count(b"\n") == 1


def full(number: int) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def test_a_full_disk_says_not_saved_until_a_later_save_and_loses_nothing(
    plates: Path, library: Library, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    listener = ScriptedInput(["note", "scaffold lifted", "quit"])
    read_line = listener.read_line

    def with_room_again() -> str:
        said = read_line()
        if said == "scaffold lifted":
            monkeypatch.setattr(os, "fsync", full)
        if said == "save":
            monkeypatch.undo()
        return said

    listener.read_line = with_room_again  # type: ignore[method-assign]
    listener.says[3:] = ["save", "quit"]
    assert walked(plates, library, listener, watch) == 0
    assert any(line.startswith("Not saved: ") for line in listener.heard)
    assert any(line.startswith("NOT SAVED. Type ") for line in listener.heard), "the prompt says it until it is saved"
    assert any("scaffold lifted. Type quit again to leave without saving it." in line for line in listener.heard)
    assert "Every entry is saved." in listener.heard
    assert JobFile.open(plates, read_only=True).entries[-1].note == "scaffold lifted"


def test_to_leave_without_what_cant_be_saved_is_said_twice_and_told_by_the_exit_code(
    plates: Path, library: Library, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    listener = ScriptedInput(["note", "scaffold lifted", "quit", "quit"])
    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", full)
        assert walked(plates, library, listener, watch) == 4
    assert listener.says == []


def test_a_job_that_is_deleted_is_said_before_the_next_word_and_saved_again(
    plates: Path, library: Library, watch: Watch
) -> None:
    listener = ScriptedInput(["note", "scaffold lifted", "save", "1", "quit"])
    read_line = listener.read_line

    def gone() -> str:
        said = read_line()
        if said == "scaffold lifted":
            plates.unlink()
        return said

    listener.read_line = gone  # type: ignore[method-assign]
    assert walked(plates, library, listener, watch) == 0
    assert any(line.startswith("roof.json was moved, renamed or deleted. Type save ") for line in listener.heard)
    assert f"Saved in {plates}." in listener.heard
    assert JobFile.open(plates, read_only=True).entries[-1].note == "scaffold lifted"


def test_to_leave_line_by_line_warns_anew_of_each_act_that_was_not_saved(
    plates: Path, library: Library, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    says = ["note", "scaffold lifted", "quit", "note", "sheeted", "quit", "quit"]
    listener = ScriptedInput(says)
    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", full)
        assert walked(plates, library, listener, watch) == 4
    assert listener.says == []
    assert sum("Type quit again to leave" in line for line in listener.heard) == 2


SET_UP = ["Long Lane, plot 2", "", "M. Reed", ""]


def test_a_job_is_set_up_line_by_line_and_found_among_those_of_the_folder(tmp_path: Path, library: Library) -> None:
    form = str(library.forms().index("hipped") + 1)
    figures = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "40"}
    asked = [figures.get(spec.name, "") for spec in library.lists["hipped"].facts if spec.asked]
    words = [*SET_UP, form, "", "", *asked, "1", "", "1", "quit"]
    env = {**os.environ, **ENV}
    heard = "".join(f"{line}\n" for line in words)
    done = subprocess.run(
        [*PROGRAM, "--plain", "new"],
        input=heard,
        capture_output=True,
        text=True,
        cwd=tmp_path,
        timeout=SECONDS,
        env=env,
    )
    assert (done.returncode, done.stderr) == (0, "")
    entries = JobFile.open(tmp_path / "long-lane-plot-2.json", read_only=True).entries
    assert [entry.act for entry in entries] == ["start", "pin", "part", "drawn"]
    assert entries[0].by == "M. Reed"
    assert (entries[-1].value["length"], entries[-1].value["pitch"]) == (9000.0, 35.0)
    found = subprocess.run(
        [*PROGRAM, "--plain"], input="1\n1\nquit\nback\n", capture_output=True, text=True, cwd=tmp_path,
        timeout=SECONDS, env=env,
    )  # fmt: skip
    assert (found.returncode, found.stderr) == (0, "")
    assert "1 Long Lane, plot 2: 4 entries" in found.stdout
    assert found.stdout.count("Which job?") == 2
