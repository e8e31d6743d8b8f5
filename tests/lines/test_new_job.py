"""A new job that is left half way, line by line and at the keyboard: what was said stands to be taken, in either."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.lines.new_job import new_job
from sitelog.lines.talk import Left, Talk
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.new_job import NewJobPage
from tests.checklist.small import write
from tests.checklist.small_roof import CUT_ROOF
from tests.lines.listener import WIDE, ScriptedInput
from tests.tui.site import DEVICE, Watch

HALF = ["Mill barn", "far field", "A. Dunn", "", "4", "", "", "7200", "5000"]  # left at the pitch
REST = ["40", *[""] * 9]


def said(folder: Path, library: Library, watch: Watch, says: Sequence[str]) -> tuple[ScriptedInput, Job | None]:
    """What was heard, and the job that was made of what was said; None where it was left."""
    listener = ScriptedInput(says)
    talk = Talk(listener.read_line, listener.write_line, width=WIDE)
    try:
        return listener, new_job(talk, folder, library, lambda by: Author(by, DEVICE, watch()), by="")
    except (Left, EOFError):
        return listener, None


def form(library: Library) -> str:
    return str(library.forms().index("hipped") + 1)


def half(library: Library) -> list[str]:
    return [form(library) if line == "4" else line for line in HALF]


@pytest.mark.parametrize("end", [["back"], []], ids=["back", "the end of what is said"])
def test_what_was_said_of_a_new_job_stands_the_next_time_and_an_empty_line_keeps_it(
    tmp_path: Path, library: Library, watch: Watch, end: list[str]
) -> None:
    assert said(tmp_path, library, watch, [*half(library), *end])[1] is None
    assert not list(tmp_path.glob("*.json")), "nothing is made"
    figures = len([spec for spec in library.lists["hipped"].facts if spec.asked]) - 3
    says = [*[""] * 9, "40", *[""] * figures, "1", "", "1"]
    listener, job = said(tmp_path, library, watch, says)
    for words in ("Mill barn", "far field", "A. Dunn", "hipped", "7200", "5000"):
        assert f"You typed {words} before and did not save it. Press Enter to keep it." in listener.text
    assert job
    with job:
        facts, first = job.state.facts, job.entries[0]
        assert (job.state.title, job.state.place, first.by) == ("Mill barn", "far field", "A. Dunn")
        assert [facts[f"main.{name}"].drawn for name in ("length", "width", "pitch")] == [7200, 5000, 40]
        assert [facts[f"main.{name}"].whence for name in ("pitch", "section")] == ["drawn", "usual"]
    assert not list(tmp_path.glob(".sitelog*")), "once it is made nothing half filled is left"


def test_another_answer_goes_before_the_one_that_was_said_and_a_dash_leaves_a_figure_open(
    tmp_path: Path, library: Library, watch: Watch
) -> None:
    said(tmp_path, library, watch, half(library))
    said(tmp_path, library, watch, ["Long barn", *[""] * 6, "-", "5500"])
    listener, _ = said(tmp_path, library, watch, [""] * 9)
    assert "You typed Long barn before" in listener.text
    assert "You typed 5500 before" in listener.text
    assert "7200" not in listener.text


async def test_what_was_said_stands_in_the_form_on_the_screen_and_what_was_typed_is_told(
    tmp_path: Path, library: Library, watch: Watch
) -> None:
    said(tmp_path, library, watch, half(library))
    app = SitelogApp(folder=tmp_path, clock=watch, device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, NewJobPage)
        texts = page.form.texts()
        assert (texts["title"], texts["by"], texts["1.length"]) == ("Mill barn", "A. Dunn", "7200")
        await pilot.press("end", *"s", "escape")
    listener, _ = said(tmp_path, library, watch, [""])
    assert "You typed Mill barns before" in listener.text


async def test_to_look_at_the_form_of_a_new_job_leaves_nothing_behind(tmp_path: Path, watch: Watch) -> None:
    app = SitelogApp(folder=tmp_path, clock=watch, device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await pilot.pause()
        assert isinstance(app.screen, NewJobPage)
        await pilot.press("escape")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "wrong", ["[", "{}", '{"new-job": {"x.form": "hipped", "1.form": "shed", "9.id": ""}}', "\x00"]
)
def test_a_file_of_half_filled_forms_that_makes_no_sense_is_passed_over(
    tmp_path: Path, library: Library, watch: Watch, wrong: str
) -> None:
    (tmp_path / ".sitelog-new-job").write_text(wrong)
    figures = len([spec for spec in library.lists["hipped"].facts if spec.asked]) - 2
    _, job = said(tmp_path, library, watch, [*half(library), *[""] * figures, "1", "", "1"])
    assert job
    with job:
        assert [part.id for part in job.state.parts] == ["job", "main"]


# --- a roof said block by block ---------------------------------------------------------------------------------------


def said_roof_form(library: Library) -> str:
    return str(library.forms().index("cut-roof") + 1)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Library:
    return load(shipped=write(tmp_path_factory.mktemp("lists"), **{"cut-roof": CUT_ROOF}))


def test_a_cut_roof_is_said_block_by_block_and_each_block_says_what_results(
    tmp_path: Path, small: Library, watch: Watch
) -> None:
    head = ["Mill barn", "", "A. Dunn", "", said_roof_form(small), "", ""]
    blocks = [
        "wing off CD 0 from D 4000x4000 40",  # before the main roof
        "main 9000x6000 40",
        "wing off CE 0 from D 4000x4000 40",
        "wing off CD 0 from D 4000x4000 40 end gable",
        "dormer off AB 3000 from A 1500x900 35 cheek 900",
        "drop dormer",
    ]
    assert said(tmp_path, small, watch, [*head, *blocks])[1] is None, "left before its end"
    listener, job = said(tmp_path, small, watch, [*[""] * 8, "1", "", "1"])
    assert job, listener.text
    with job:
        assert job.state.facts["main.building"].drawn == f"{blocks[1]}; {blocks[3]}"
    assert "Wing off CD, 0 from D: 4000 x 4000, 40; end gable" in listener.text
    heard = said(tmp_path, small, watch, [*head, *blocks])[0].text
    for words in (
        "begin with the main roof, such as main 9000x6000 40 BC gable",
        "wing: CE isn't a side to build on; the sides are AB, BC, CD, DA",
        "Corners: A, B, C, D. 4 hips: AB-BC, AB-DA, BC-CD, CD-DA. 1 ridge: AB-CD.",
        "Corners: A, B, C, E, F, G. 4 hips: AB-BC, AB-GA, BC-CE, CE-GA. 1 valley: CE-EF.",
        "Dormer on AB, 3000 from A: 1500 wide",
    ):
        assert words in heard, words
