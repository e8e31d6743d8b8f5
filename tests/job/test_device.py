"""A device has one short name that does not tell the machine's own number."""

import re
from pathlib import Path

import pytest

from sitelog.job.storage.device import device_id
from sitelog.refusal import Refusal


def test_a_machine_has_the_same_name_every_time() -> None:
    assert re.fullmatch("[a-z0-9]{8}", device_id({}))
    assert device_id({}) == device_id({"SITELOG_DEVICE": ""})


def test_a_name_that_is_given_is_taken() -> None:
    assert device_id({"SITELOG_DEVICE": "tablet01"}) == "tablet01"


@pytest.mark.parametrize("name", ["tablet", "tablet001", "Tablet01", "tablet-1", "tablet0\n", "tablét01", "../../.."])
def test_a_name_of_another_shape_is_refused(name: str) -> None:
    with pytest.raises(Refusal, match="eight characters"):
        device_id({"SITELOG_DEVICE": name})


@pytest.mark.parametrize("text", ["", "uninitialized\n", None])
def test_a_machine_without_a_number_goes_by_its_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str | None
) -> None:
    if text is not None:
        (tmp_path / "machine-id").write_text(text)
    monkeypatch.setattr("sitelog.job.storage.device._MACHINE", (tmp_path / "machine-id",))
    monkeypatch.setattr("sitelog.job.storage.device._windows", lambda: "")
    monkeypatch.setattr("platform.node", lambda: "shed")
    shed = device_id({})
    monkeypatch.setattr("platform.node", lambda: "barn")
    assert re.fullmatch("[a-z0-9]{8}", shed)
    assert shed != device_id({})


def test_the_machines_own_number_stays_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    number = "0123456789abcdef" * 2
    (tmp_path / "machine-id").write_text(f"{number}\n")
    monkeypatch.setattr("sitelog.job.storage.device._MACHINE", (tmp_path / "machine-id",))
    assert device_id({}) not in number
