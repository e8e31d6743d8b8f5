"""`sitelog templates`: what a part has, the files that are made of it, and what is refused in one line."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from sitelog.checklist.schema.shipped import sample_folder
from tests.cli.conftest import Say

DORMER = ("--title", "Test dormer", "--part", "eyebrow:eyebrow-dormer")
SAMPLE = str(sample_folder() / "kiln-lane.json")


def test_without_a_part_the_templates_of_all_are_listed_with_their_sheets(say: Say) -> None:
    done = say("templates", SAMPLE)
    assert done.code == 0
    assert "Former with its slots: 1766 by 602, " in done.out and " sheets of A4 or " in done.out
    assert "Hip at A: backing: " in done.out and "Ridge: end: " in done.out


def test_a_cut_roof_with_jacks_and_cripples_has_those_of_its_commons_hips_and_valleys(say: Say) -> None:
    done = say("templates", str(sample_folder() / "mill-yard.json"))
    assert done.code == 0
    assert "Common on AB: head" in done.out and "Valley CE-EF: birdsmouth" in done.out and "Jack" not in done.out


def test_what_is_not_measured_yet_is_named_with_what_is_missing(say: Say, job: str) -> None:
    done = say("templates", job)
    assert "as drawn, not measured yet: Plate AB, front; " in done.out, done.out
    assert say("new", f"{job}2.json", *DORMER, "--by", "M. Reed").code == 0
    assert "not ready: Outer line, full size: needs End to end at the face" in say("templates", f"{job}2.json").out
    refused = say("templates", f"{job}2.json", "eyebrow")
    assert refused.code == 2 and refused.refused_in_one_line
    assert "No template of eyebrow is ready: Outer line, full size: needs End to end at the face" in refused.err


def test_a_template_as_drawn_says_so_on_every_sheet(say: Say, job: str, tmp_path: Path) -> None:
    assert say("templates", job, "main", "1", "--out", str(tmp_path / "out")).code == 0
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(next((tmp_path / "out").iterdir())).pages]
    assert "AS DRAWN. Not measured yet: Plate AB, front" in pages[0]
    assert all("AS DRAWN" in page for page in pages)


def test_a_template_is_made_by_its_number_or_its_words(say: Say, tmp_path: Path) -> None:
    by_number = say("templates", SAMPLE, "dormer", "2", "--out", str(tmp_path / "one"))
    by_words = say("templates", SAMPLE, "dormer", "former", "--out", str(tmp_path / "two"), "--a3")
    name = "kiln-lane-dormer-former-with-its-slots"
    assert by_number.out.splitlines()[0] == str(tmp_path / "one" / f"{name}-a4.pdf")
    assert by_words.out.splitlines()[0] == str(tmp_path / "two" / f"{name}-a3.pdf")
    a4, a3 = (PdfReader(next((tmp_path / folder).iterdir())) for folder in ("one", "two"))
    assert len(a3.pages) < len(a4.pages)
    assert "Measure both bars before you cut" in by_number.out and "engineer" in by_number.out


def test_svg_and_dxf_are_made_beside_each_other(say: Say, tmp_path: Path) -> None:
    pytest.importorskip("ezdxf", reason="ezdxf is not installed (extra `dxf`)")
    assert say("templates", SAMPLE, "dormer", "former", "--svg", "--dxf", "--out", str(tmp_path)).code == 0
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".dxf", ".svg"]


def test_two_readings_make_the_sheets_again_and_say_how_far_the_printer_is_off(say: Say, tmp_path: Path) -> None:
    done = say("templates", SAMPLE, "main", "1", "--long", "--bars", "99.4", "100.2", "--out", str(tmp_path))
    assert "The printer is off by -0.60% across, +0.20% up" in done.out
    page = PdfReader(next(tmp_path.iterdir())).pages[0].extract_text()
    assert "bars read 99.40 and 100.20" in " ".join(page.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("attic",), "No part 'attic'. Parts are main, dormer, deck, gutter"),
        (("deck",), "Link deck doesn't have templates"),
        (("main", "purlin"), "No template 'purlin' of Main roof. Type its number, 1 to "),
        (("main", "99"), "No template '99' of Main roof. Type its number, 1 to "),
        (("main", "--dxf", "--bars", "99", "100"), "--bars is for sheets that you print: add --long, or leave out"),
        (("main", "--bars", "120", "90"), "Bar across reads 120.00: over 3% off 100."),
        (("main", "1", "--out", "/proc/nowhere"), "Not saved: "),
    ],
)
def test_a_slip_is_refused_in_one_line(say: Say, words: tuple[str, ...], said: str) -> None:
    done = say("templates", SAMPLE, *words)
    assert done.code and done.refused_in_one_line and said in done.err, done.err


def test_no_such_job_is_refused_in_one_line(say: Say) -> None:
    done = say("templates", "nowhere.json", "main")
    assert done.refused_in_one_line and "No job file called " in done.err
