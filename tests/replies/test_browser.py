"""The form in a real browser, off the disk: thirty points by mouse and keys, and nothing asked of any network."""

from pathlib import Path

import pytest

from sitelog.job.replies.reply import read_reply
from sitelog.job.replies.taking import take
from sitelog.reports.formats.html import brief_html
from tests.length import long
from tests.replies.browser import Tab, found, tab
from tests.replies.desk import Desk

needs_a_browser = pytest.mark.skipif(not found(), reason="no browser on this machine: apt-get install chromium")
WHY = 'gap "12 mm" <b>at</b> the hip\'s foot [C] \u2014 see photo \U0001f44d'


def briefed(desk: Desk, folder: Path) -> Path:
    page = folder / "kiln-lane-brief-tiler.html"
    page.write_text(brief_html(desk.pack()), encoding="utf-8")
    return page


def said(page: Tab, id: str) -> str:
    return str(page.value(f"document.getElementById('{id}').textContent"))


@long
@needs_a_browser
def test_thirty_points_answered_in_a_browser_off_the_disk_are_entered_and_no_network_is_asked(
    desk: Desk, tmp_path: Path
) -> None:
    file = briefed(desk, tmp_path)
    with tab(tmp_path) as page:
        page.open(file, 390, 800)
        assert page.value("document.documentElement.scrollWidth") <= 390, "nothing to scroll sideways"
        for number in range(1, 29):
            page.click(f"#p{number} input[value=yes]")
        for number in (29, 30):
            page.click(f"#p{number} input[value=back]")
        page.click("#save")
        assert said(page, "said") == "Point 29: say why you send it back."
        page.type(WHY)
        page.press("Tab", 9)
        page.press("Tab", 9)
        page.type("loose")
        assert said(page, "count").startswith("30 of ") and said(page, "count").endswith("answered, 2 sent back.")
        page.click("#save")
        assert said(page, "said") == "Type your name."
        page.type("J. Dunn")
        page.call("Page.reload")
        while page.value("document.readyState") != "complete" or not said(page, "count").startswith("30 of "):
            pass
        page.value(f"document.getElementById('on').value = '{desk.now.date().isoformat()}'")
        page.click("#save")
        reply = tmp_path / "kiln-lane-plot-3-reply-tiler.txt"
        while not reply.exists():
            page.value("1")
        text = reply.read_text(encoding="utf-8")
        assert page.value("document.getElementById('text').value") == text
        assert said(page, "said").startswith("Saved as kiln-lane-plot-3-reply-tiler.txt")
        # data: is the browser's own picture beside the date, blob: what is saved.
        asked = {address for address in page.requests if address.partition(":")[0] not in ("blob", "data")}
        assert (asked, page.told) == ({file.as_uri()}, [])
    found_reply = take(desk.job, read_reply(text), desk.now.date())
    assert (found_reply.reply.accepted, found_reply.changed) == (tuple(range(1, 29)), ())
    assert found_reply.reply.back[0][1] == WHY.replace("[C]", "(C)")
    desk.enter(found_reply.reply)
    assert [snag.text.partition(": ")[2] for snag in desk.state.open_snags] == [WHY.replace("[C]", "(C)"), "loose"]


@long
@needs_a_browser
def test_the_form_is_answered_without_a_mouse_and_every_target_is_large(desk: Desk, tmp_path: Path) -> None:
    """WCAG 2.2, 2.5.5: a target is at least 44 by 44 CSS pixels."""
    file = briefed(desk, tmp_path)
    with tab(tmp_path) as page:
        page.open(file, 390, 800)
        sizes = page.value(
            "[...document.querySelectorAll('.choices label, #answer button, #answer input, textarea')]"
            ".filter((one) => one.offsetParent).map((one) => [one.offsetWidth, one.offsetHeight])"
        )
        assert len(sizes) > 90 and min(min(size) for size in sizes) >= 44, "by 44 CSS pixels"
        page.press("Tab", 9)
        assert page.value("document.activeElement.name") == "p1"
        page.press(" ", 32, text=" ")
        page.press("ArrowUp", 38)
        page.press("ArrowUp", 38)
        assert page.value("document.querySelector('#p1 input:checked').value") == "yes"
        page.press("Tab", 9)
        page.press("ArrowUp", 38)
        page.press("Tab", 9)
        page.type("no room")
        assert page.value("document.querySelector('#p2 textarea').value") == "no room"
        assert said(page, "count").startswith("2 of ")


@long
@needs_a_browser
def test_a_script_that_is_not_the_form_s_does_not_run(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "altered.html"
    text = brief_html(desk.pack())
    file.write_text(text.replace("</form>", "</form><script>document.title = 'run'</script>"), encoding="utf-8")
    with tab(tmp_path) as page:
        page.open(file, 1000, 800)
        page.value("fetch('http://192.0.2.1/').catch(() => 0)")
        assert page.value("document.title") != "run"
        assert page.told and all("Content Security Policy" in told for told in page.told)
