"""The brief: two pages for the job and one a part, what is wrong first, and no figure that the record has not."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import html5lib
import pytest
import segno
from pypdf import PdfReader

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.drawing.model import Drawing
from sitelog.drawing.svg import size_mm
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.state.views import State
from sitelog.reports.brief.wrong import BEFORE_HANDOVER, wrong
from sitelog.reports.formats import lettering, marks, paper, pdf, sheets
from sitelog.reports.formats.html import brief_html, html
from sitelog.reports.formats.text import brief_text, text
from sitelog.reports.front.amiss import Found, Rows
from sitelog.reports.front.first_page import KINDS, FirstPage
from sitelog.reports.model import Pack, Section, Table
from sitelog.reports.pack import make, trades
from tests.reports.site import Site
from tests.shipped import library

NOW = datetime(2026, 11, 30, 9, 0, tzinfo=UTC)
SAMPLE = sample_folder() / "kiln-lane.json"


@pytest.fixture(scope="module")
def sample() -> State:
    with Job.open(SAMPLE, library(), read_only=True) as job:
        return job.state


def pack(state: State, to: str) -> Pack:
    return make(state, library(), to, NOW, SAMPLE.with_name("kiln-lane.json.files"))


@pytest.fixture(scope="module")
def tiler(sample: State) -> Pack:
    return pack(sample, "tiler")


def words_of(raw: bytes) -> list[str]:
    """The words of each page, as a program that looks for text finds them."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(raw)).pages]


def printed(made: Pack) -> tuple[bytes, bytes]:
    measure = lettering.measure()
    record = sheets.record_pages(made, measure)
    brief = sheets.brief_pages(made, measure, record)
    first, second = (
        pdf.pdf(pages, title=made.title, subject="", foot=sheets.foot(made, "x")) for pages in (brief, record)
    )
    return first, second


@pytest.mark.parametrize("to", ["tiler", "leadworker", "coppersmith", "laminator"])
def test_a_brief_is_two_pages_for_the_job_and_one_for_each_part_that_the_trade_takes(sample: State, to: str) -> None:
    made = pack(sample, to)
    parts = [leaf.part for leaf in made.brief if leaf.part]
    assert [leaf.part for leaf in made.brief[:2]] == ["", ""]
    assert len(PdfReader(BytesIO(printed(made)[0])).pages) == 2 + len(parts)
    lines = brief_text(made).split("\n")
    assert len(lines) <= 60 * (2 + len(parts)) + 1
    assert max(map(len, lines)) <= 80


def test_every_trade_that_takes_something_over_has_a_brief(sample: State) -> None:
    assert set(trades(sample)) == {"tiler", "leadworker", "coppersmith", "laminator"}
    for to in trades(sample):
        assert f"brief for the {to}" in brief_html(pack(sample, to))


def test_what_stops_the_work_is_never_among_those_that_are_more(tiler: Pack) -> None:
    table = next(block for block in tiler.brief[0].blocks if isinstance(block, Table))
    stops = [row for row in table.rows if row[0].startswith("STOP")]
    unread = [one for section in tiler.first if section.id == "unread" for one in section.blocks]
    named = {re.sub(r" \(at .*| ?: read it.*", "", head) for block in unread for head, _ in getattr(block, "rows", ())
             if head.endswith("read it before handover")}  # fmt: skip
    assert named and all(any(row[1].startswith(title) for row in stops) for title in named)
    assert [row[0].startswith("STOP") for row in table.rows[: len(stops)]] == [True] * len(stops), "stops come first"
    assert "more: under Not checked" in table.rows[-1][1]


def test_what_was_not_checked_is_one_line_with_a_count_and_the_record_s_page(tiler: Pack) -> None:
    brief, record = (words_of(raw) for raw in printed(tiler))
    said = re.search(r"Not checked: (\d+)\. The list is in the record, page (\d+)\.", brief[0])
    assert said and dict(tiler.counts)["not checked"] == int(said[1])
    heading = next(number for number, page in enumerate(record, 1) if "– Main roof: Hip at C" in page)
    assert int(said[2]) == heading > 1, "where the list begins, and not the line of it in the contents"


def tables(blocks: Iterable[object]) -> list[Table]:
    return [block for block in blocks if isinstance(block, Table)]


def pairs(rows: Iterable[tuple[str, ...]]) -> set[tuple[str, str]]:
    """Each name with its figure, of a table that has two of both in a row."""
    return {(name, figure) for row in rows for name, figure in (row[:2], row[2:]) if name}


def test_every_size_on_the_brief_is_told_alike_in_the_record(tiler: Pack) -> None:
    record = {section.id: section for section in tiler.rest}
    briefed = {table.heads[0]: table for leaf in tiler.brief[1:] for table in tables(leaf.blocks)}
    needs = tables(record["main-needs"].blocks)
    assert pairs(briefed["Main roof"].rows) == pairs(needs[1].rows) and len(needs[1].rows) > 15
    assert [row[1:] for row in briefed["Slope"].rows] == [row[1:] for row in needs[0].rows]
    assert len(briefed["Slope"].rows) == 4


def test_every_figure_of_what_is_not_right_stands_with_it_in_the_record(tiler: Pack) -> None:
    record = text(tiler)
    known = set(re.findall(r"\d[\d.]*\d|\d", record))
    rows = tables(tiler.brief[0].blocks)[0].rows
    assert rows
    for row in rows:
        if not row[1].startswith("and "):
            assert set(re.findall(r"\d[\d.]*\d|\d", row[1])) <= known, row


def test_a_tiler_reads_each_slope_its_hips_and_the_covering_from_page_2_alone(tiler: Pack) -> None:
    page = words_of(printed(tiler)[0])[1]
    for words in ("9596 (drawn 9600)", "2999 (drawn 3000)", "4007 (drawn 4005)", "a point", "25.2", "35.0° drawn",
                  "Hip C 4741",
                  "Headlap to lay", "80", "Rafter centres", "400", "Exposure", "moderate", "Batten thickness", "25",
                  "Underlay, battens, counter-battens", "Vents: gaps as built", "On the roof now",
                  "How many temporary braces are still in?", "Where do the first stacks go",
                  "Most in one stack"):  # fmt: skip
        assert words in page, words


def test_the_area_of_a_slope_is_that_of_its_trapezoid_or_triangle(tiler: Pack) -> None:
    """By hand from the lengths shown: (9596 + 2999) / 2 x 4007 and 6603 / 2 x 4007 square mm."""
    table = next(block for block in tiler.brief[1].blocks if isinstance(block, Table) and block.heads[0] == "Slope")
    areas = {row[0].split()[-1]: float(row[4]) for row in table.rows}
    assert areas["AB"] == pytest.approx((9596 + 2999) / 2 * 4007 / 1e6, abs=0.06)
    assert areas["BC"] == pytest.approx(6603 / 2 * 4007 / 1e6, abs=0.06)


def test_a_pdf_has_its_fonts_its_title_the_record_code_and_page_n_of_m_on_each_page(tiler: Pack) -> None:
    for raw in printed(tiler):
        reader = PdfReader(BytesIO(raw))
        assert reader.metadata and reader.metadata.title == tiler.title
        for number, page in enumerate(reader.pages, 1):
            said = page.extract_text()
            assert f"page {number} of {len(reader.pages)}" in said and tiler.head in said
        assert raw.count(b"/FontFile2") == raw.count(b"/Subtype /TrueType") > 0
        assert not [image for page in reader.pages for image in page.images], "vectors, no pictures of pages"


def test_the_same_job_and_moment_give_the_same_bytes(sample: State) -> None:
    assert printed(pack(sample, "tiler")) == printed(pack(sample, "tiler"))


def test_the_record_has_contents_with_page_numbers_and_each_source_once(tiler: Pack) -> None:
    pages = words_of(printed(tiler)[1])
    contents = " ".join(pages[:2])
    for section in tiler.rest[-3:]:
        found = re.search(rf"{re.escape(section.title)} (\d+)", contents)
        assert found and section.title in pages[int(found[1]) - 1], section.title
    sources = next(section for section in tiler.rest if section.id == "sources")
    table = next(block for block in sources.blocks if isinstance(block, Table))
    assert len({row[1:] for row in table.rows}) == len(table.rows) > 50
    assert len(pages) < 80, "it was 86 pages of fewer checks"


def test_every_drawing_says_its_scale_or_that_it_has_none(tiler: Pack) -> None:
    drawings = sum(isinstance(block, Drawing) for section in tiler.rest for block in section.blocks)
    assert drawings and html(tiler).count("Not to scale.") == drawings
    assert " ".join(text(tiler).split()).count("Not to scale.") == drawings


@pytest.mark.parametrize("page", [brief_html, html])
def test_the_pages_are_html_without_an_error(tiler: Pack, page: object) -> None:
    """By the parser of html5lib, which follows the HTML standard's own algorithm, held to its strict way."""
    assert callable(page)
    html5lib.HTMLParser(strict=True).parse(page(tiler))


def test_a_job_with_nothing_measured_has_a_brief_with_empty_cells(tmp_path: Path) -> None:
    made = Site().pack()
    assert len(PdfReader(BytesIO(printed(made)[0])).pages) == 3
    table = next(block for block in made.brief[1].blocks if isinstance(block, Table) and block.heads[0] == "Slope")
    assert all(row[6:] == ("", "", "", "") for row in table.rows), "no gauge before there is a headlap"
    assert "WITHHELD" not in brief_text(made) and "None" not in brief_text(made)


def test_a_slope_that_nobody_has_measured_says_that_it_is_drawn() -> None:
    table = next(table for table in tables(Site().pack().brief[1].blocks) if table.heads[0] == "Slope")
    for row in table.rows:
        assert all(cell in ("", "a point") or cell.endswith(("drawn", "usual")) for cell in (*row[1:4], row[5])), row


def test_both_ends_of_a_slope_are_told_where_they_differ_by_half_a_millimetre_or_more() -> None:
    """The pack tells a length to 1 mm: less than half of that is no difference."""
    site = Site()
    read = {"ab_p": 4000.0, "ab_q": 4000.4, "bc": 4000.0, "cd_q": 4000.0, "cd_p": 4000.6, "da": 4000.0}
    site.do(Draft(act="answer", part="main", check="tiler.slopes", value=read))
    table = next(table for table in tables(site.pack().brief[1].blocks) if table.heads[0] == "Slope")
    up = {row[0]: row[3] for row in table.rows}
    assert up["AB"] == up["BC"] == "4000 (drawn 4005)" and up["CD"] == "4000 (drawn 4005) (4000 to 4001)"


@pytest.mark.parametrize("change", [{"title": "x " * 2_000}, {"place": "y" * 4_000}, {"parts": ("part " * 200,) * 6}])
def test_words_of_any_length_leave_the_brief_its_pages(change: dict[str, Any]) -> None:
    made = replace(Site().pack(), **change)
    assert len(PdfReader(BytesIO(printed(made)[0])).pages) == 3


def test_whatever_stops_the_work_is_on_the_brief_even_if_it_takes_another_page() -> None:
    made = Site().pack()
    stops = tuple(("STOP, not read", f"Caution number {n}. Read it before handover.") for n in range(150))
    table = next(iter(tables(made.brief[0].blocks)))
    blocks = (replace(table, rows=(*stops, *table.rows)), *made.brief[0].blocks[1:])
    made = replace(made, brief=(replace(made.brief[0], blocks=blocks), *made.brief[1:]))
    on_paper = " ".join(words_of(printed(made)[0]))
    for told in (on_paper, brief_text(made)):
        assert all(f"Caution number {n}." in told for n in range(150))


def test_as_text_a_part_has_sixty_lines_and_says_that_the_rest_is_in_the_record(tiler: Pack) -> None:
    """A page of A4 at six lines an inch, less its margins: 60 lines of 80 letters."""
    points = Table(("No", "Point"), tuple((str(n), "eaves") for n in range(90)), (1, 7))
    leaf = replace(tiler.brief[-1], title="Porch", blocks=(points,))
    lines = brief_text(replace(tiler, brief=(*tiler.brief[:-1], leaf))).split("\n")
    page = lines[lines.index("PORCH") - 2 : -1]
    assert len(page) == 60 and page[-1] == "The rest is in the record."


def test_a_row_longer_than_a_page_is_printed_whole(tiler: Pack) -> None:
    long = " ".join(f"word{n}" for n in range(440))
    section = Section("notes", "Notes", (Table(("Check", "Note"), (("ties", long),), (3, 3)),))
    pages = words_of(printed(replace(tiler, first=(), rest=(section,)))[1])
    assert all(f"word{n} " in f"{' '.join(pages)} " for n in range(440))


def test_a_drawing_is_printed_inside_the_place_that_was_kept_for_it(tiler: Pack) -> None:
    drawing = next(block for block in tiler.brief[0].blocks if isinstance(block, Drawing))
    for tallest in (60.0, 92.0):
        sheet = paper.Sheet(lettering.measure(), 8.0, tallest)
        sheet.drawing(drawing)
        (picture,) = (mark for mark in sheet.page.marks if isinstance(mark, marks.Picture))
        assert size_mm(drawing, picture.wide, picture.tallest)[1] <= tallest + 5.0 and picture.tallest == tallest


def test_the_square_code_holds_the_job_the_record_code_and_the_count_of_entries(tiler: Pack) -> None:
    """The dark squares on the page are those of the code, row by row."""
    assert tiler.code == f"sitelog {tiler.job} {tiler.head} {tiler.entries}"
    wanted = [list(map(bool, row)) for row in segno.make(tiler.code, error="m", micro=False).matrix]
    dark = [mark for mark in sheets.brief_pages(tiler, lettering.measure(), [])[0].marks
            if isinstance(mark, marks.Box) and mark.tint == 0.0]  # fmt: skip
    left, top = min(box.x for box in dark), min(box.y for box in dark)
    side = dark[0].high / 1.02
    found = {
        (round((box.y - top) / side), round((box.x - left) / side) + step)
        for box in dark
        for step in range(round(box.wide / side))
    }
    assert found == {(y, x) for y, row in enumerate(wanted) for x, one in enumerate(row) if one}
    assert brief_html(tiler).count('<div class="code"><svg') == 1


def test_a_name_of_a_file_is_never_cut_inside_a_word(tiler: Pack, tmp_path: Path) -> None:
    from sitelog.reports.pack import write

    stem = "-".join(["paddock"] * 40)
    for path in write(tiler, tmp_path, stem, ("txt",)):
        assert set(path.stem.replace("-brief-tiler", "").replace("-record", "").split("-")) <= {
            "paddock", "members", "batches", "order", "pack", "photos", "brief", "tiler", "record"
        }  # fmt: skip


def test_a_place_with_brackets_of_its_own_is_told_whole() -> None:
    """A block with more hips than go on a screen has a second stage, Main roof: hips (2)."""
    head = f"Hips carry what meets them (at Main roof: hips (2)){BEFORE_HANDOVER}"
    rows: dict[str, Rows] = {id: () for id, _, _ in KINDS} | {"unread": (Found(head),)}
    ((_, told), _), *_ = wrong(FirstPage(rows, 1, ""))
    assert told == "Hips carry what meets them: Main roof: hips (2). Read it before handover."


def test_what_was_carried_on_with_and_put_right_since_no_longer_heads_the_brief() -> None:
    laps, site = "main.plates.laps", Site()
    site.up_to(laps)
    site.do(actions.release(site.state, laps, "short stick agreed"))
    assert "\nCarried on   Shortest plate" in brief_text(site.pack())
    site.answer(laps, {"value": "5"}, note="longer stick laid")
    told = brief_text(site.pack())
    assert "\nCarried on   Shortest plate" not in told
    assert "\nCarried on,  Shortest plate" in told and "It is done now" in told
    old = Found("Laps", past=True)
    rows: dict[str, Rows] = {id: () for id, _, _ in KINDS}
    rows |= {"released": (old, Found("Levels")), "deferred": (Found("Straps"),)}
    assert [line for (_, line), _ in wrong(FirstPage(rows, 0, ""))] == ["Levels.", "Straps.", "Laps."]
