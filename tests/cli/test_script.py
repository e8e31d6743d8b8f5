"""Kept by other programs: `--json` on every command, held to its published shape, and a whole job by what it says."""

import io
import json
import os
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import fastjsonschema
import pytest

from sitelog.cli.script.schema import schema_of
from sitelog.cli.script.shapes import SHAPES
from sitelog.cli.words import COMMANDS
from tests.cli.conftest import NEW, Say
from tests.cli.test_keep import past

BY = ("--by", "M. Reed")
WITHOUT_JSON = {"open", "serve", "help", "schema", "completion", "manual"}  # a screen, or made for a shell already


def told(say: Say, *words: str) -> Any:
    """What a command prints with --json, held to the shape that it publishes."""
    said = say(*words, "--json")
    assert (said.err, said.out.count("\n")) == ("", 1), said
    found = json.loads(said.out)
    fastjsonschema.compile(schema_of(words[0]))(found)
    return found


def test_every_command_that_says_something_publishes_its_shape() -> None:
    assert {command.name for command in COMMANDS} - WITHOUT_JSON == set(SHAPES)


def test_the_schemas_of_all_commands_are_one_object(say: Say) -> None:
    assert set(json.loads(say("schema").out)) == set(SHAPES)
    assert json.loads(say("schema", "show").out)["$defs"]["CheckData"]["properties"]["type"]
    assert "did you mean show" in say("schema", "shw").err


def test_what_a_command_says_is_one_object_of_its_shape(
    say: Say, job: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert told(say, "new", "other.json", *NEW, *BY)["title"] == "Test roof"
    assert told(say, "read", job)["cautions"][0]["ask"]
    assert told(say, "read", job, "cdm", "P. Vale", *BY)["entries"] == 2 if "cdm" in say("read", job).out else True
    assert told(say, "record", job, "job.before.drawings", "R-101", *BY)["check"]["value"] == "R-101"
    assert told(say, "note", job, "day", "rain till ten", *BY)["next"]
    assert told(say, "instrument", job, "T1", "tape", "II", *BY)["said"][0] == "T1: on the list of tools"
    assert told(say, "snag", job, "", "scaffold board split", "--who", "A. Dunn", *BY)["entries"]
    assert told(say, "undo", job, *BY)["said"]
    assert told(say, "instruct", job, "main", "trim for a rooflight", "--who", "P. Vale", *BY)["files"]
    assert told(say, "verify", job) == {
        "said": [f"{job}: all entries and photos are as they were saved"], "good": True, "faults": [], "beside": []
    }  # fmt: skip
    assert told(say, "lists", job)["new"] == []
    assert told(say, "merge", job)["added"] == 0
    assert told(say, "templates", job)["files"] == []
    assert told(say, "drawings", job, "--svg", "drawn")["files"]
    assert told(say, "order", job)["members"]
    assert told(say, "handover", job, "--to", "tiler")["signed"] is False
    assert told(say, "lint", "nowhere")["faults"]
    assert told(say, "sample", "site")["files"] == ["site/kiln-lane.json"]
    shown = told(say, "show", job)
    assert shown["entries"] == told(say, "merge", job)["entries"]
    assert told(say, "calc", "common", "run=3000", "pitch=35")["verdict"] is None
    assert [one["name"] for one in told(say, "calc")][:1]


def test_what_a_check_takes_is_in_the_data(say: Say, job: str) -> None:
    state = told(say, "show", job)
    checks = {check["path"]: check for part in state["parts"] for stage in part["stages"] for check in stage["checks"]}
    sides = checks["main.plates.sides"]
    assert [figure["key"] for figure in sides["figures"]] == ["ab", "bc", "cd", "da", "ac", "bd"]
    assert (sides["type"][0].partition("=")[0], sides["figures"][0]["drawn"]) == ("ab", 9000.0)
    assert "Sign job.before first" in sides["blocked"]
    works = checks["job.before.works"]
    assert works["type"] == [works["choices"][0]["id"]]
    wind = next(one for one in state["cautions"] if one["id"] == "weather-wind")
    assert (wind["kind"], wind["answered_by"]) == ("number", "")


def test_a_name_may_stand_in_the_environment(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert say("note", job, "day", "dry").refused_in_one_line
    monkeypatch.setenv("SITELOG_BY", "A. Dunn")
    assert say("note", job, "day", "dry").code == 0
    assert say("note", job, "day", "wet", *BY).code == 0
    by = [note["by"] for note in entries(job)[-2:]]
    assert by == ["A. Dunn", "M. Reed"]


def entries(job: str) -> list[dict[str, Any]]:
    table = json.loads(Path(job).read_text(encoding="utf-8"))["entries"]
    return [table[key] for key in sorted(table, key=int)]


def test_words_come_from_standard_input_where_a_dash_stands(
    say: Say, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    past(say, job, "job.before", "main.finish")
    typed = "ab=9000 bc=6000 # the long wall first\ncd=9000 da=6000\nac=10817 bd=10817\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    assert "main.plates.sides:" in say("record", job, "main.plates.sides", "-", *BY).out
    monkeypatch.setattr("sys.stdin", io.StringIO("rain till ten\n"))
    assert say("note", job, "day", "-", *BY).code == 0
    monkeypatch.setattr("sys.stdin", io.StringIO("run=3000 pitch=35"))
    assert say("calc", "common", "-").code == 0
    for words in (("record", job, "main.plates.sides", "-", "--note", "-", *BY),):
        assert say(*words).refused_in_one_line, "standard input is read once"
    monkeypatch.setattr("sys.stdin", io.StringIO('ab="9000'))
    assert say("record", job, "main.plates.sides", "-", *BY).refused_in_one_line


def test_quiet_says_only_what_is_wrong(say: Say, job: str) -> None:
    assert say("note", job, "day", "dry", *BY, "--quiet").out == ""
    assert say("-q", "calc", "common", "run=3000", "pitch=35").out == ""
    assert say("calc", "common", "-q").refused_in_one_line


def test_flags_of_every_command_stand_before_it_or_after(say: Say, job: str) -> None:
    assert say("--json", "show", job).out == say("show", job, "--json").out == say("show", "--json", job).out
    assert say("--ascii", "drawings", job, "main").out == say("drawings", job, "main", "--ascii").out
    assert say("--ascii", "calc", "common", "run=3000", "pitch=35").code == 0


def test_help_of_a_command_is_the_same_both_ways(say: Say) -> None:
    assert say("help", "record").out == say("record", "--help").out
    assert say("help").out == say("--help").out
    assert "Did you mean record" in say("help", "recrod").err


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_each_shell_completes_every_command(say: Say, shell: str) -> None:
    said = say("completion", shell)
    assert said.code == 0
    assert all(command.name in said.out for command in COMMANDS)


def test_the_manual_page_has_every_command_and_flag(say: Say) -> None:
    page = say("manual").out
    assert all(f"sitelog {command.name}" in page for command in COMMANDS)
    assert "\\-\\-instrument" in page


def test_an_output_of_plain_letters_gets_plain_letters(job: str) -> None:
    words = [sys.executable, "-m", "sitelog", "show", job]
    env = os.environ | {"PYTHONIOENCODING": "ascii", "SITELOG_DEVICE": "testdev1"}
    ran = subprocess.run(words, capture_output=True, env=env, check=False)
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert ran.stdout.isascii()


@pytest.mark.long
def test_a_whole_job_is_kept_by_what_help_and_the_commands_themselves_say(
    say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From a new job to the signed pack: each command as its help writes it, each answer as `show --json` has it."""
    monkeypatch.chdir(tmp_path)
    job = example(say, "new")[1]
    assert say(*example(say, "new")).code == 0
    signed: list[str] = []
    while (state := told(say, "show", job))["next"]:
        for words in acts(state):
            said = say(words[0], job, *words[1:], *flags(say, words[0]))
            signed += words[1:] if words[0] == "sign" else ()
            if said.code:
                off_the_drawing = missing(told(say, "show", job), words[1])
                said = say("draw", job, *off_the_drawing, *flags(say, "draw"))
            assert (said.code, said.err) == (0, ""), (words, said)
    assert (signed[0], signed[-1]) == ("job.before", "job.handover")
    done = told(say, *example(say, "handover"))
    assert done["signed"] is True and all(Path(file).is_file() for file in done["files"])
    assert told(say, "verify", job, "--head", done["head"])["good"]
    assert told(say, "show", job)["releases"] == []


def example(say: Say, command: str) -> list[str]:
    """The words of a command as its help gives an example of it."""
    listed = say("--help").out
    assert f"    {command} " in listed
    words = " ".join(say(command, "--help").out.split()).partition("Example: sitelog ")[2]
    return shlex.split(words)


def flags(say: Say, command: str) -> list[str]:
    """Those of the example that a command's help gives."""
    words = example(say, command)
    return words[next(at for at, word in enumerate(words) if word.startswith("--")) :]


def missing(state: dict[str, Any], path: str) -> list[str]:
    """What a check that can't be judged waits for, off the drawing: its part, and the figure as the check has it."""
    checks = {check["path"]: check for part in state["parts"] for stage in part["stages"] for check in stage["checks"]}
    check = checks[path]
    facts = (name for name, fact in state["facts"].items() if fact["drawable"] and fact["says"] in check["refusal"])
    part, _, own = next(facts).partition(".")
    return [part, f"{own}={check['value']}"]


def acts(state: dict[str, Any]) -> Iterator[list[str]]:
    """What is next: the cautions of its stage, then its answer or the signature."""
    path = state["next"]
    stages = {stage["path"]: stage for part in state["parts"] for stage in part["stages"]}
    checks = {check["path"]: check for stage in stages.values() for check in stage["checks"]}
    stage = path if path in stages else path.rpartition(".")[0]
    last = stage == "job.handover"
    for caution in state["cautions"]:
        if (caution["stage"] == stage or last) and not caution["answered_by"]:
            yield ["read", caution["id"], answer_to(caution), "--at", caution["stage"]]
    yield ["sign", path] if path in stages else ["record", path, *values(checks[path])]


def answer_to(caution: dict[str, Any]) -> str:
    if caution["numbers"]:
        return " ".join(str(number["stop_under"] or 0) for number in caution["numbers"])
    free = [choice for choice in caution["choices"] if choice not in caution["stop_on"]]
    return free[0] if free else str(caution["type"])


def values(check: dict[str, Any]) -> list[str]:
    """As the check says to type it; what stands in capitals is to be replaced."""
    return [word.replace("FILE", "IMG_1").replace("WORDS", "seen by P. Vale") for word in check["type"]]
