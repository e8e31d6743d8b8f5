"""Work beyond the drawing: entered by name, numbered, on the record, and on a sheet that is signed."""

from io import BytesIO
from pathlib import Path
from shutil import copy

import pytest
from PIL import Image
from pypdf import PdfReader

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.cli.run import run
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.refusal import Refusal
from sitelog.reports.formats.text import text
from sitelog.reports.pack import write
from tests.reports.site import Site
from tests.shipped import library

ASKED = {"text": "trim for a second rooflight", "who": "P. Vale, architect", "day": "4 Dec 2026", "hours": "6",
         "timber": "2 of 47x150 4.8 m"}  # fmt: skip


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    return Path(copy(sample_folder() / "kiln-lane.json", tmp_path))


def instruct(file: Path, *words: str) -> int:
    return run(["instruct", str(file), "main", "trim for a second rooflight", *words])


def test_an_instruction_is_entered_by_name_and_its_sheet_is_there_to_sign(
    job_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert instruct(job_file, "--who", "P. Vale, architect", "--hours", "6", "--by", "M. Reed") == 0
    made = capsys.readouterr().out.splitlines()
    assert [Path(line).name for line in made[:3]] == [
        f"kiln-lane-instruction-1.{end}" for end in ("pdf", "html", "txt")
    ]
    sheet = " ".join(page.extract_text() for page in PdfReader(BytesIO(Path(made[0]).read_bytes())).pages)
    for words in ("trim for a second rooflight", "P. Vale, architect", "Hours", "6", "M. Reed", "Signature"):
        assert words in sheet
    with Job.open(job_file, library(), read_only=True) as job:
        (one,) = job.state.instructions
        assert (one.id, one.who, one.hours, one.by, one.path) == ("1", "P. Vale, architect", "6", "M. Reed", "main")
        assert job.entries[-1].act == "instruct"


def test_instructions_are_numbered_and_all_of_them_are_on_the_record() -> None:
    site = Site()
    site.do(actions.instruct(site.state, "main", ASKED))
    site.do(actions.instruct(site.state, "", ASKED | {"text": "box in the pipe", "hours": ""}))
    assert [one.id for one in site.state.instructions] == ["1", "2"]
    record = " ".join(text(site.pack()).split())
    assert "INSTRUCTIONS BEYOND THE DRAWING" in record and "box in the pipe" in record and "4 Dec 2026" in record


def test_an_instruction_that_is_taken_back_keeps_its_number_for_its_sheet_may_be_out() -> None:
    site = Site()
    site.do(actions.instruct(site.state, "main", ASKED))
    site.do(actions.undo(site.state, site.entries))
    site.do(actions.instruct(site.state, "main", ASKED | {"text": "box in the pipe"}))
    assert [(one.id, one.undone) for one in site.state.instructions] == [("1", True), ("2", False)]
    record = " ".join(text(site.pack()).split())
    assert "TAKEN BACK: trim for" in record
    assert [leaf.title for leaf in site.pack().instructions] == ["Instruction 2"]


def test_a_long_instruction_with_a_photo_is_printed_whole_and_signed_at_its_end(job_file: Path, tmp_path: Path) -> None:
    photo = tmp_path / "a.jpg"
    Image.new("RGB", (3000, 2000), "red").save(photo)
    words = " ".join(f"item{n}" for n in range(60))
    out = tmp_path / "out"
    code = run(["instruct", str(job_file), "main", words, "--who", "P. Vale", "--photo", str(photo), "--by", "M. Reed",
                "--out", str(out)])  # fmt: skip
    assert code == 0
    pages = PdfReader(out / "kiln-lane-instruction-1.pdf").pages
    said = " ".join(page.extract_text() for page in pages)
    assert all(f"item{n}" in said for n in range(60)) and "Signature" in said
    assert len([image for page in pages for image in page.images]) == 1
    assert (out / "kiln-lane-instruction-1.pdf").stat().st_size < 80_000, "as large as it is printed, and no larger"
    (copied,) = (out / "pack-photos").iterdir()
    assert f'src="pack-photos/{copied.name}"' in (out / "kiln-lane-instruction-1.html").read_text(encoding="utf-8")


def test_the_sheets_are_made_with_the_handover_whichever_front_entered_them(tmp_path: Path) -> None:
    site = Site()
    site.do(actions.instruct(site.state, "main", ASKED))
    made = write(site.pack(), tmp_path, "kiln-lane")
    assert {path.name for path in made} >= {f"kiln-lane-instruction-1.{form}" for form in ("pdf", "html", "txt")}


@pytest.mark.parametrize(
    ("missing", "says"),
    [
        ({"text": " "}, "Say what was asked"),
        ({"who": ""}, "Say who asked, with the firm"),
        ({"day": "soon"}, "day: 'soon' isn't a date"),
        ({"hours": "six"}, "Hours are 'six': type a number, such as 6 or 7.5"),
        ({"hours": "0"}, "Hours are '0'"),
    ],
)
def test_what_an_instruction_lacks_is_told_in_one_line(missing: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        actions.instruct(Site().state, "main", ASKED | missing)


def test_an_instruction_that_is_too_long_to_keep_whole_is_refused_and_not_cut() -> None:
    with pytest.raises(Refusal, match="has 600 letters: 500 is the most"):
        actions.instruct(Site().state, "main", ASKED | {"text": "x" * 600})


def test_a_sheet_that_takes_two_pages_is_printed_whole(tmp_path: Path) -> None:
    site = Site()
    site.do(actions.instruct(site.state, "main", ASKED | {"text": "\n".join("abc" for _ in range(90))}))
    (path,) = (path for path in write(site.pack(), tmp_path, "k") if path.name == "k-instruction-1.pdf")
    said = [page.extract_text() for page in PdfReader(path).pages]
    assert len(said) == 2 and "Signature" in said[1]


def test_without_a_name_nothing_is_entered_and_no_sheet_is_written(job_file: Path) -> None:
    before = job_file.read_bytes()
    assert instruct(job_file, "--who", "P. Vale") == 2
    assert job_file.read_bytes() == before and not list(job_file.parent.glob("*instruction*"))
