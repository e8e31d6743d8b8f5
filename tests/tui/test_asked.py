"""What the copper on a dormer asks of the roof in slates and lead below it, seen in both. The job is invented."""

from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import lines
from tests.tui.site import brought_to, opened, stand_on

RUNOFF = "No water off copper on to zinc, galvanised steel or plain aluminium"


def in_copper(folder: Path, library: Library) -> Path:
    """Slates and lead on the roof, copper on the dormer: both are chosen, neither is signed."""
    chosen = {
        "main.finish.covering": "slates-500x250",
        "main.finish.lining": "lead-code-5",
        "dormer.finish.lining": "copper-06",
    }

    def choose(path: str, value: str):  # type: ignore[no-untyped-def]
        return lambda job: actions.answer(job.state, job.library, path, {"value": value})

    first = [choose(path, value) for path, value in chosen.items()]
    return brought_to(folder, library, "main.finish", *first, more=[("dormer", "Dormer", "barrel-dormer", {})])


async def test_the_strip_tells_it_where_the_finish_is_chosen(tmp_path: Path, library: Library) -> None:
    async with opened(in_copper(tmp_path, library)) as walker:
        page = await stand_on(walker, "main.finish.covering")
        seen = " ".join(" ".join(lines(walker.app)).split())
        assert "Needed by Dormer (Copper, 0.6 mm, rolls or seams)" in seen
        assert RUNOFF in seen
        for path in ("main.finish", "dormer.finish"):
            stage = walker.app.state.stage(path)
            assert stage is not None
            assert "copper-runoff" in [one.id for one in page.due(stage)], "the caution is due in both"
        await stand_on(walker, "dormer.finish.lining")
        assert "Needed by Main roof (Lead, Code 5)" in " ".join(" ".join(lines(walker.app)).split())


async def test_the_page_of_figures_tells_it_whole_and_leads_to_where_it_was_chosen(
    tmp_path: Path, library: Library
) -> None:
    async with opened(in_copper(tmp_path, library)) as walker:
        walker.app.push_screen(FactsPage())
        await walker.pilot.pause()
        page = walker.app.screen
        assert isinstance(page, FactsPage)
        at = next(n for n, one in enumerate(walker.app.state.asked) if one.ask.says.startswith(RUNOFF))
        page.listing.stand_on(f"asked {at}")
        await walker.press("up", "down")
        await walker.pilot.pause()
        seen = " ".join(" ".join(lines(walker.app)).split())
        assert "Dormer needs: No water off copper" in seen
        assert "Materials handbook, corrosion" in seen
        await walker.press("enter")
        assert "This comes from another part" in " ".join(lines(walker.app))
        await walker.press("g")
        await walker.pilot.pause()
        job = walker.app.screen
        assert isinstance(job, JobPage) and job.check is not None
        assert job.check.path == "dormer.finish.lining"


def test_a_job_with_both_opens_again_as_it_was(tmp_path: Path, library: Library) -> None:
    file = in_copper(tmp_path, library)
    with Job.open(file, library) as job:
        assert {one.part for one in job.state.asked} == {"main", "dormer"}
