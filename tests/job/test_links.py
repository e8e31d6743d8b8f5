"""Nothing is written through a link, what is begun has a name that nobody has, and all has the rights of the job."""

import os
import stat
from pathlib import Path
from typing import IO, Any

import pytest

from sitelog.job.photos.keeping import keep, look, stands
from sitelog.job.storage.disk import begun, beside, load, put
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.store import WholeFile
from sitelog.job.storage.verify import strange, verify
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from sitelog.wording.prompts.drafts import Drafts
from tests.job.logs import after, log, saved, tree
from tests.job.pictures import png

pytestmark = pytest.mark.skipif(os.name == "nt", reason="links and rights of POSIX")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "desk").mkdir()
    return saved(tmp_path / "desk" / "barn.json", log(3))


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    """A folder of somebody else's, with a file in it."""
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    (folder / "theirs").write_bytes(b"theirs")
    return folder


@pytest.mark.parametrize("name", ["copies", ""])
def test_a_job_with_a_link_in_its_folder_is_only_read(job: Path, elsewhere: Path, name: str) -> None:
    place = beside(job) / name if name else beside(job)
    if place.is_dir():
        for path in sorted(place.rglob("*"), reverse=True):
            path.unlink()
        place.rmdir()
    else:
        place.unlink(missing_ok=True)
    place.symlink_to(elsewhere)
    with JobFile.open(job) as file:
        assert file.why_read_only == f"{place.name} beside it is a shortcut. Remove it"
    assert tree(elsewhere) == {"theirs": b"theirs"}


@pytest.mark.parametrize("name", ["copies", ""])
def test_a_link_that_comes_while_the_job_is_open_is_not_followed_either(job: Path, elsewhere: Path, name: str) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        folder = beside(job) / name if name else beside(job)
        if folder.exists():
            folder.rename(job.with_name("away"))
        folder.symlink_to(elsewhere)
        with pytest.raises(Refusal, match=rf"^Not saved: {folder.name} is a shortcut\. Remove it\.$") as refused:
            file.join([after(file.entries)])
        assert refused.value.code == NOT_SAVED
    assert tree(elsewhere) == {"theirs": b"theirs"}


def test_a_copy_that_is_a_link_is_no_copy_and_its_number_is_not_taken_again(job: Path, elsewhere: Path) -> None:
    copies = beside(job) / "copies"
    copies.mkdir(exist_ok=True)
    (copies / "000007-barn.json").symlink_to(elsewhere / "theirs")
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
    assert [copy.name for copy in WholeFile(job).copies()] == ["000008-barn.json"]
    assert tree(elsewhere) == {"theirs": b"theirs"}


def test_a_journal_that_is_a_link_is_not_read(job: Path, elsewhere: Path) -> None:
    (beside(job) / "journal.tablet01").symlink_to(elsewhere / "theirs")
    with pytest.raises(Refusal, match=r"^barn.json.files/journal.tablet01 is a shortcut: move it away\.$"):
        JobFile.open(job)


def test_what_was_typed_goes_through_no_link(tmp_path: Path, elsewhere: Path) -> None:
    files = tmp_path / "barn.json.files"
    files.mkdir()
    for name in ("typed.new", ".typed.json.saving"):
        (files / name).symlink_to(elsewhere / "theirs")
    (tmp_path / ".sitelog-new-job.new").symlink_to(elsewhere / "theirs")
    (tmp_path / ".sitelog-new-job").symlink_to(elsewhere / "theirs")
    for drafts in (Drafts.of_job(files), Drafts.of_new_job(tmp_path)):
        assert drafts.typed("main") == {}
        drafts.keep("main", {"ab": "9000"})
    assert Drafts.of_job(files).typed("main") == {"ab": "9000"}
    assert Drafts.of_new_job(tmp_path).typed("main") == {"ab": "9000"}
    assert tree(elsewhere) == {"theirs": b"theirs"}
    files.rename(tmp_path / "away")
    files.symlink_to(elsewhere)
    Drafts.of_job(files).keep("main", {"ab": "9000"})
    assert tree(elsewhere) == {"theirs": b"theirs"}


def test_a_photo_goes_through_no_link(job: Path, tmp_path: Path, elsewhere: Path) -> None:
    (tmp_path / "strap.png").write_bytes(png())
    picture = look(tmp_path / "strap.png")
    (beside(job) / picture.photo.file).symlink_to(elsewhere / "theirs")
    keep(beside(job), [picture])
    assert stands(beside(job), picture.photo) == "there"
    assert tree(elsewhere) == {"theirs": b"theirs"}


def test_a_link_is_told_as_one_and_not_read(tmp_path: Path) -> None:
    (tmp_path / "here").symlink_to("/dev/zero")
    with pytest.raises(Refusal, match=r"^here is a shortcut: name the job file\.$") as refused:
        load(tmp_path / "here")
    assert refused.value.code == USAGE


def test_a_file_that_is_replaced_while_it_is_opened_is_read_as_it_stands_then(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, place = Path.open, tmp_path / "journal.tablet01"
    place.write_bytes(b"old")
    (tmp_path / "new").write_bytes(b"new")

    def late(path: Path, mode: str) -> IO[Any]:
        if (tmp_path / "new").exists():
            (tmp_path / "new").replace(place)
        return real(path, mode)

    monkeypatch.setattr(Path, "open", late)
    assert load(place)[0] == b"new"


def test_a_job_that_is_reached_by_a_link_is_saved_where_it_stands(job: Path, tmp_path: Path) -> None:
    (tmp_path / "short.json").symlink_to(job)
    with JobFile.open(tmp_path / "short.json") as file:
        file.append([after(file.entries)])
    assert (tmp_path / "short.json").is_symlink()
    assert len(JobFile.open(job, read_only=True).entries) == 4


def test_what_is_begun_has_a_name_of_its_own_each_time(tmp_path: Path) -> None:
    names = set()
    for _ in range(3):
        new, handle = begun(tmp_path / "barn.json")
        os.close(handle)
        names.add(new.name)
    assert len(names) == 3


def test_a_folder_under_the_name_of_something_begun_bars_nothing(job: Path) -> None:
    """As another program's, or one that nobody may remove."""
    job.with_name(".barn.json.saving").mkdir()
    (beside(job) / ".journal.a1b2c3d4.saving").mkdir()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        file.checkpoint()
    assert verify(job) == []


def test_what_a_kill_has_left_is_swept_by_the_next_writer_and_by_no_reader(job: Path) -> None:
    left = [
        job.with_name(".barn.json.saving"),
        job.with_name(".barn.json.a1b2c3d4.saving"),
        *(beside(job) / name for name in ("journal.new", "typed.new", ".journal.a1b2c3d4.saving")),
    ]
    others = job.with_name(".shed.json.a1b2c3d4.saving")
    for path in (*left, others):
        path.write_bytes(b"half")
    JobFile.open(job, read_only=True).close()
    assert all(path.exists() for path in left)
    JobFile.open(job).close()
    assert not any(path.exists() for path in left)
    assert others.exists()
    assert strange(job) == []


@pytest.mark.parametrize(
    "left", ["lock", "lists.json", "lists.json.4711", "own-lists.json", ".lists.json.a1b2c3d4.saving", "journal.new"]
)
def test_a_killed_new_bars_no_name(tmp_path: Path, left: str) -> None:
    job = tmp_path / "barn.json"
    beside(job).mkdir()
    (beside(job) / left).write_bytes(b"")
    job.with_name(".barn.json.a1b2c3d4.saving").write_bytes(b"half")
    with JobFile.create(job, log(2)):
        assert not list(tmp_path.glob(".*"))
    assert verify(job) == []


def test_another_jobs_photos_bar_the_name_still(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    beside(job).mkdir()
    (beside(job) / f"{'0' * 64}.jpg").write_bytes(b"")
    with pytest.raises(Refusal, match="already exists, from another job"):
        JobFile.create(job, log(2))


def test_all_that_is_kept_beside_a_job_has_its_rights(job: Path, tmp_path: Path) -> None:
    for path in beside(job).glob("*"):
        path.unlink()
    beside(job).rmdir()
    job.chmod(0o600)
    (tmp_path / "strap.png").write_bytes(png())
    with JobFile.open(job) as file:
        for _ in range(2):
            file.append([after(file.entries)])
            assert mode(beside(job) / "journal.tablet01") == 0o600
            file.checkpoint()
        keep(file.files, [look(tmp_path / "strap.png")])
        Drafts.of_job(file.files).keep("main", {"ab": "9000"})
        assert {mode(path) for path in beside(job).rglob("*") if path.is_file()} == {0o600}
        assert {mode(path) for path in (beside(job), beside(job) / "copies")} == {0o700}
        assert mode(job) == 0o600


def test_copies_of_before_a_job_was_made_private_are_made_so_too(job: Path) -> None:
    with JobFile.open(job) as file:
        file.join([after(file.entries)])
    job.chmod(0o600)
    with JobFile.open(job) as file:
        file.join([after(file.entries)])
    assert {mode(copy) for copy in WholeFile(job).copies()} == {0o600}


def test_a_file_whose_rights_can_not_be_set_is_not_left_behind(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    before = tree(job.parent)
    monkeypatch.setattr(Path, "chmod", refused)
    with pytest.raises(OSError, match="not permitted"):
        put(job, b"anything", job)
    assert tree(job.parent) == before


def test_a_copy_is_a_full_one_where_the_disk_knows_no_second_names(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    before = job.read_bytes()
    job.chmod(0o600)
    monkeypatch.setattr(os, "link", none)
    with JobFile.open(job) as file:
        file.join([after(file.entries)])
    (copy,) = WholeFile(job).copies()
    assert (copy.read_bytes(), mode(copy)) == (before, 0o600)


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)
