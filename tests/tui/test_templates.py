"""The templates of a part at the keyboard: from its drawing by one key, then the file beside the job."""

from pathlib import Path

from pypdf import PdfReader
from textual.widgets import Input

from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.widgets.plan import DrawingPage
from sitelog.tui.widgets.templates import TemplatesPage
from tests.tui.seen import text, until_shown
from tests.tui.test_pages import at_job


async def test_one_key_on_a_drawing_leads_to_the_templates_and_enter_makes_the_sheets(app: SitelogApp) -> None:
    async with at_job(app, DrawingPage("main.plates")) as pilot:
        assert "p templates" in text(app)
        await pilot.press("p")
        await pilot.pause()
        assert isinstance(app.screen, TemplatesPage)
        assert "Hip at A: backing" in text(app) and "47 by 245" in text(app)
        await pilot.press("down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, AskPage)

        async def answers(*said: str) -> None:
            for number, words in enumerate(said):
                app.screen.query_one(f"#answer-{number}", Input).value = words
            app.screen.query_one("#answer-2").focus()
            await pilot.press("enter")
            await pilot.pause()

        await answers("paper", "100", "100")
        assert "isn't one of them: type a4, a3, long, svg, dxf" in text(app)
        await answers("a3", "120", "100")
        assert "Bar across reads 120.00: over 3%" in text(app)
        await answers("a3", "99.5", "100")
        await until_shown(pilot, "-a3.pdf in ")
        assert "off by -0.50% across" in text(app) and "Measure both bars" in text(app)
        made = next(Path(app.folder).glob("*-a3.pdf"))
        assert "bars read 99.50 and 100.00" in " ".join(PdfReader(made).pages[0].extract_text().split())
