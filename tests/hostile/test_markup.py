"""Markup in any text, of the screens' own language and of the page's: it is shown as it was written."""

import asyncio
import html
import re
from html.parser import HTMLParser
from pathlib import Path

from sitelog.reports.formats.reply_form import script
from tests.hostile.fronts import packs, pages, say
from tests.hostile.jobs import job
from tests.length import long

TERMINAL = "[/2 battens] [@click=app.quit]x[/] [bold red]y[/bold red] [link=file:///]z[/link]"
PAGE = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'><a href=javascript:alert(1)>k</a> &lt; <!-- ]]>"


class Tags(HTMLParser):
    """Every tag of a page with its attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


@long
def test_the_screens_take_no_word_of_a_job_for_markup(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: f"{TERMINAL} {words}")
    seen = "\n".join(text for _, text in asyncio.run(pages(file)))
    assert "[/2 battens]" in seen and "[@click=app.quit]x[/]" in seen
    assert "[bold red]y[/bold red]" in " ".join(seen.split())


@long
def test_the_pages_of_the_pack_hold_no_tag_that_a_job_gave_them(tmp_path: Path) -> None:
    (tmp_path / "plain").mkdir()
    plain = dict(packs(job(tmp_path / "plain", lambda words: words)))
    hostile = dict(packs(job(tmp_path, lambda words: f"{PAGE} {words}")))
    known = {tag for text in plain.values() for tag, _ in Tags(text).tags}
    pages_made = [text for name, text in hostile.items() if name.endswith((".html", ".svg"))]
    assert pages_made
    for text in pages_made:
        for tag, attributes in Tags(text).tags:
            assert tag in known and tag not in ("iframe", "object", "embed", "link", "base")
            assert not [name for name in attributes if name.startswith("on")]
            assert not [
                v
                for name, v in attributes.items()
                if v and name != "xmlns" and re.match(r"\s*(javascript|data|file|https?):", v)
            ]
        assert re.findall(r"(?s)<script>(.*?)</script>", text) == [script()] * ("-brief-" in text.partition("\n")[0])
        assert len(re.findall("<(?:script|form)", text)) == 2 * ("-brief-" in text.partition("\n")[0])
        assert "alert(1)" not in text or html.escape("<script>") in text


def test_the_title_of_a_page_is_the_job_s_words_and_not_its_tags(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: f"</title>{words}")
    text = next(text for name, text in packs(file) if name.endswith(".html"))
    assert text.lower().count("</title>") == len(re.findall(r"<title>", text, re.IGNORECASE))


def test_commands_say_markup_as_it_was_written(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: f"{TERMINAL} {words}")
    assert "[/2 battens]" in say("show", file).out
