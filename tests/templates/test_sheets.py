"""The sheets: tiles that join, bars that are true, what each page says, and a printer that is off."""

from io import BytesIO

import numpy as np
import pytest
from pypdf import PdfReader

from sitelog.refusal import Refusal
from sitelog.reports.templates import pdf
from sitelog.reports.templates.bars import Bars, bars
from sitelog.reports.templates.model import Template, path
from sitelog.reports.templates.tiles import LEFT, LOW, OVERLAP, PAPERS, Tiles, papers, tiles
from tests.templates.made import HEADING, PLAIN, arcs, every, one, pictures

DOTS = 300 / 25.4  # to a millimetre
SQUARE = Template("Square", tuple(path(((0, 0), (600, 0), (600, 600), (0, 600)), closed=True)))


def tiled(template: Template, paper: str = "a4", read: Bars = PLAIN) -> bytes:
    return pdf.tiled(tiles(template, paper), HEADING, read)


def test_a_tile_stays_on_its_paper_when_it_is_made_larger_by_three_parts_in_a_hundred() -> None:
    for name in PAPERS:
        for paper in papers(name):
            across, up = paper.tile
            assert LEFT + across / 0.97 <= paper.wide and LOW + up / 0.97 <= paper.high


def test_neighbours_share_ten_millimetres_and_their_crosses() -> None:
    found = tiles(SQUARE, "a4")
    across, up = found.paper.tile
    (first, second), below = found.all[:2], found.all[found.counts[1]]
    assert first.left + across - second.left == OVERLAP and below.low + up - first.low == OVERLAP
    places = [{(tile.left + x, tile.low + y) for x, y in found.crosses} for tile in (first, second, below)]
    assert len(places[0] & places[1]) == 2 and len(places[0] & places[2]) == 2


def test_what_has_nothing_on_it_is_left_out_and_the_rest_are_joined() -> None:
    found = tiles(SQUARE, "a4")
    assert len(found.shown) < len(found.all)
    for template in every():
        for paper in PAPERS:
            assert _joined(tiles(template, paper)), template.title


def _joined(found: Tiles) -> bool:
    """Whether one gets from each sheet to every other over a shared edge."""
    waiting = {(tile.row, tile.column) for tile in found.shown}
    reached = [waiting.pop()]
    while reached:
        row, column = reached.pop()
        beside = {(row + 1, column), (row - 1, column), (row, column + 1), (row, column - 1)} & waiting
        waiting -= beside
        reached += beside
    return not waiting


def test_every_page_says_job_part_sheet_when_record_code_and_correction() -> None:
    raw = tiled(one("formers", "", "Former"))
    pages = PdfReader(BytesIO(raw)).pages
    for number, page in enumerate(pages, 1):
        said = " ".join(page.extract_text().split())
        for words in (HEADING.job, HEADING.part, HEADING.made, HEADING.head, "no correction", "Measure both bars"):
            assert words in said, words
        assert f"sheet {number} of {len(pages)}" in said and "engineer" in said
        assert "bar across: 100" in said and "bar up: 100" in said
    first = tiles(one("formers", "", "Former"), "a4").shown[0]
    assert f"row A, column {first.column + 1}" in " ".join(pages[1].extract_text().split())
    assert "Print this sheet first" in pages[0].extract_text()


def test_a_template_of_one_sheet_has_no_sheet_before_it() -> None:
    pages = PdfReader(BytesIO(tiled(one("hip", "", "Backing")))).pages
    assert len(pages) == 1 and "sheet 1 of 1" in pages[0].extract_text()


def test_viewers_are_asked_not_to_scale() -> None:
    for raw in (tiled(SQUARE), pdf.long(SQUARE, HEADING, PLAIN)):
        preferences = PdfReader(BytesIO(raw)).viewer_preferences
        assert preferences and str(preferences["/PrintScaling"]) == "/None"


def test_the_same_template_and_moment_give_the_same_bytes() -> None:
    former = one("formers", "", "Former")
    assert tiled(former) == tiled(former)
    assert pdf.long(former, HEADING, PLAIN) == pdf.long(former, HEADING, PLAIN)


def test_words_of_people_are_text_on_a_sheet() -> None:
    hostile = Template("<b>Square</b> \x1b[31m(1) Tj", SQUARE.lines)
    said = PdfReader(BytesIO(tiled(hostile))).pages[0].extract_text()
    assert "<b>Square</b>" in said and "\x1b" not in said


def test_a_long_sheet_is_as_large_as_it_takes_and_no_larger_than_viewers_open() -> None:
    page = PdfReader(BytesIO(pdf.long(SQUARE, HEADING, PLAIN))).pages[0]
    assert 600 < float(page.mediabox.width) / 72 * 25.4 < 700
    with pytest.raises(Refusal, match=r"over 5 m.*Leave out --long"):
        pdf.long(Template("Long", tuple(path(((0, 0), (6000, 0))))), HEADING, PLAIN)


# --- the printer --------------------------------------------------------------------------------------------------


def bar_lengths(raw: bytes) -> tuple[float, float]:
    """What a rule reads at both bars of the first page [mm]."""
    page = next(pictures(raw, 300))
    high = page.shape[0]
    row, column = high - round((LOW - 5.0) * DOTS), round((LEFT - 5.0) * DOTS)
    across = np.asarray(page[row - 2 : row + 3].any(axis=0))
    start = round((LEFT - 3) * DOTS)
    on = np.flatnonzero(across[start : start + round(115 * DOTS)])
    up = np.asarray(page[:, column - 2 : column + 3].any(axis=1))
    on_up = np.flatnonzero(up[: high - round((LOW - 1) * DOTS)])
    pen = 0.15
    return (on[-1] - on[0] + 1) / DOTS - pen, (on_up[-1] - on_up[0] + 1) / DOTS - pen


def test_both_bars_are_a_hundred_millimetres() -> None:
    assert bar_lengths(tiled(SQUARE)) == pytest.approx((100, 100), abs=0.1)


@pytest.mark.parametrize("off", [0.003, 0.01, 0.03])
@pytest.mark.parametrize("way", [0, 1])
def test_a_printer_that_is_off_one_way_is_found_by_two_readings_and_made_good(off: float, way: int) -> None:
    """A bar printed so much too small or large reads that; made again and printed so, both are 100."""
    for sign in (1, -1):
        prints = [1.0, 1.0]
        prints[way] += sign * off
        readings = [100 * part for part in prints]
        found = bars(*(f"{reading:.1f}" for reading in readings))
        assert [1 / factor for factor in found.factors] == pytest.approx(prints, abs=1e-9)
        assert f"{'+' if sign > 0 else '-'}{off * 100:.2f}%" in found.off
        made = bar_lengths(tiled(SQUARE, read=found))
        assert [length * part for length, part in zip(made, prints, strict=True)] == pytest.approx((100, 100), abs=0.12)


def test_a_sheet_says_what_correction_it_carries() -> None:
    said = PdfReader(BytesIO(tiled(SQUARE, read=bars("99.4", "100.2")))).pages[1].extract_text()
    assert "corrected +0.60% across, -0.20% up (bars read 99.40 and 100.20)" in " ".join(said.split())


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("120", "100"), r"Bar across reads 120.00: over 3% off 100"),
        (("100", "90"), r"Bar up reads 90.00: over 3% off 100"),
        (("103.1", "100"), r"Bar across reads 103.10: over 3%"),
        (("wide", "100"), r"bar across: 'wide' isn't"),
    ],
)
def test_readings_that_no_printer_gives_are_refused_in_one_line(typed: tuple[str, str], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        bars(*typed)


# --- joined again -------------------------------------------------------------------------------------------------


def corners(page: np.ndarray, found: Tiles, dots: float) -> list[tuple[float, float]]:
    """Where the crosses of a tile are on its picture [dots from the top left], lower left first as `Tiles.crosses`."""
    high = page.shape[0]
    places = []
    for x, y in found.crosses:
        column, row = round((LEFT + x) * dots), high - round((LOW + y) * dots)
        near = round(3 * dots)
        window = page[row - near : row + near + 1, column - near : column + near + 1]
        places.append((column - near + _middle(window.sum(axis=0)), row - near + _middle(window.sum(axis=1))))
    return places


def _middle(dark: np.ndarray) -> float:
    """The middle of the line that runs right through the window."""
    on = np.flatnonzero(dark >= 0.9 * len(dark))
    return float(on.mean())


@pytest.mark.parametrize("resolution", [150, pytest.param(600, marks=pytest.mark.long)])
def test_tiles_put_together_by_their_crosses_are_true_over_three_metres(resolution: float) -> None:
    """An eyebrow 3 m wide: after all sheets are joined cross on cross, each point is within half a millimetre."""
    template = one("eyebrow", "width=3000 rise=600 pitch=55 spacing=250", "Eyebrow: line on the main")
    found, dots = tiles(template, "a4"), resolution / 25.4
    pages = list(pictures(tiled(template), resolution))[1:]
    first = found.shown[0]
    placed: dict[tuple[int, int], tuple[float, float]] = {}  # each tile's picture, moved so that its crosses meet
    spots = {(tile.row, tile.column): corners(page, found, dots) for tile, page in zip(found.shown, pages, strict=True)}
    placed[first.row, first.column] = (0.0, 0.0)
    waiting = [(first.row, first.column)]
    while waiting:
        at = waiting.pop()
        for step, (own, other) in {(0, 1): (1, 0), (0, -1): (0, 1), (1, 0): (0, 2), (-1, 0): (2, 0)}.items():
            to = at[0] + step[0], at[1] + step[1]
            if to in spots and to not in placed:
                mine, theirs = spots[at][own], spots[to][other]
                placed[to] = tuple(placed[at][n] + mine[n] - theirs[n] for n in (0, 1))  # type: ignore[assignment]
                waiting.append(to)
    assert len(placed) == len(pages)
    zero = spots[first.row, first.column][0]
    start = first.left + found.crosses[0][0], first.low + found.crosses[0][1]
    within, worst = round(0.5 * dots), 0.0
    points = [arc.at(turn) for arc in arcs(template) for turn in arc.turns(2.0)]
    assert len(points) > 50 and max(x for x, _ in points) - min(x for x, _ in points) == pytest.approx(3000)
    for x, y in points:
        column, row = zero[0] + (x - start[0]) * dots, zero[1] - (y - start[1]) * dots
        for tile, page in zip(found.shown, pages, strict=True):
            moved = placed[tile.row, tile.column]
            own_column, own_row = column - moved[0], row - moved[1]
            across, up = found.paper.tile
            if tile.left + 1 < x < tile.left + across - 1 and tile.low + 1 < y < tile.low + up - 1:
                reach = within + 2
                middle = round(own_row), round(own_column)
                dark = np.argwhere(
                    page[middle[0] - reach : middle[0] + reach + 1, middle[1] - reach : middle[1] + reach + 1]
                )
                assert len(dark), (x, y)
                off = np.hypot(dark[:, 0] - reach, dark[:, 1] - reach).min() / dots
                worst = max(worst, float(off))
    assert worst < 0.5
