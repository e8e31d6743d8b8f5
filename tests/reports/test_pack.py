"""The pack: what is not right comes first, nothing stale is handed over as good, and a job's text stays text."""

import copy
import re
from collections.abc import Callable
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from msgspec import structs
from rich.cells import cell_len

from sitelog.checklist.schema.model import Library
from sitelog.drawing.model import Drawing
from sitelog.job.actions import actions
from sitelog.job.log.entry import Author, Entry, seal
from sitelog.job.state.replay import replay
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from sitelog.reports.formats.html import html
from sitelog.reports.formats.text import text
from sitelog.reports.model import Pack, Table
from sitelog.reports.pack import make, trades, write
from tests.reports.site import SIDES, Site
from tests.shipped import library

VOID = {"meta", "col", "br"}


@pytest.fixture(scope="module")
def built() -> Site:
    """A job gone through to the end: the plates are let go, all else reads as drawn or is let go."""
    site = Site()
    site.do(actions.instrument("T2", "tape", "I"))
    fits = {"ab": "0", "cd": "0"}
    site.up_to("", {"main.plates.sides": SIDES, "main.first-pair.pattern": fits})
    return site


@pytest.fixture(scope="module")
def started() -> Site:
    """A job that stands before its first pair, with the plates measured and let go."""
    site = Site()
    site.do(actions.instrument("T2", "tape", "I"))
    site.up_to("main.first-pair.common", {"main.plates.sides": SIDES})
    return site


@pytest.fixture
def site(started: Site) -> Site:
    """The same job to act on."""
    return copy.copy(started)


class Page(HTMLParser):
    """The page's visible words, its tags and attributes; a tag closed out of turn fails."""

    def __init__(self, markup: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.words: list[str] = []
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str]] = []
        self.feed(markup)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_startendtag(tag, attrs)
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        if tag not in ("b", "strong", "a"):
            self.words.append(" ")

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.words.append(data)

    @property
    def said(self) -> str:
        return " ".join("".join(self.words).split())


def section_ids(pack: Pack) -> list[str]:
    return [section.id for section in pack.first]


def told(pack: Pack) -> str:
    """All that the pack says, off its page."""
    return Page(html(pack)).said


def first_page(pack: Pack) -> str:
    return told(replace(pack, rest=()))


# --- signed, or why not ---------------------------------------------------------------------------------------------


def test_a_job_done_and_signed_says_by_whom_and_that_a_typed_name_is_a_simple_signature(built: Site) -> None:
    pack = built.pack()
    assert pack.signed and pack.standing.startswith("SIGNED by M. Reed, 24 Nov 2025")
    assert "A typed name shows who typed it" in pack.standing


def test_a_job_that_can_not_be_signed_gives_a_pack_headed_by_the_reasons(site: Site) -> None:
    pack = site.pack()
    assert not pack.signed
    assert re.match(
        r"NOT SIGNED: not checked \d+, stages not signed 10, cautions still to read before handover \d+\.",
        pack.standing,
    )
    assert first_page(pack).index("NOT SIGNED") < first_page(pack).index("Carried on as it is")


def test_a_signed_job_does_not_stay_signed_when_a_figure_under_it_changes(built: Site) -> None:
    site = copy.copy(built)
    site.do(actions.draw(site.state, "main", {"length": "9100"}))
    pack = site.pack()
    assert pack.standing.startswith("NOT SIGNED: out of date") and "It was signed by M. Reed" in pack.standing


def test_a_trade_that_no_check_hands_over_to_is_refused_by_the_names_of_those_that_are(built: Site) -> None:
    with pytest.raises(Refusal, match=r"^'plumber' isn't a trade on this job. Type one of: tiler$") as caught:
        built.pack("plumber")
    assert caught.value.code == USAGE
    assert trades(built.state) == ("tiler",)


# --- the first page --------------------------------------------------------------------------------------------------


def test_what_was_let_go_stands_first_with_name_reason_and_what_it_was(built: Site) -> None:
    pack = built.pack()
    assert section_ids(pack)[0] == "released"
    assert "Four sides and two diagonals, outside faces, mm Carried on as it is by J. Hale, 24 Nov 2025" in first_page(
        pack
    )
    assert "agreed with the designer on site It was TOO CLOSE, ab 8996 mm, bc 6003 mm" in first_page(pack)


def test_what_was_let_go_is_told_again_beside_every_later_heading(built: Site) -> None:
    pack = built.pack()
    count = dict(pack.counts)["released"]
    assert html(pack).count(f'<p class="running">SIGNED · released {count} ') == len(pack.rest)
    assert text(pack).count(f"(SIGNED; released {count};") == len(pack.rest)


def late(site: Site) -> None:
    site.answer("main.first-pair.common", done="2025-11-24T07:31+00:00")


def at_once(site: Site) -> None:
    site.do(actions.skip(site.state, "main.plates.ends", "steel plates"))
    site.answer("main.plates.laps", {"value": "3"})
    site.answer("main.plates.ends", wait_s="0.4")


def doubted(site: Site) -> None:
    site.answer("main.plates.sides", SIDES, instrument="T2")
    site.do(actions.doubt(site.state, "T2", "hook bent"))


def deferred(site: Site) -> None:
    site.do(actions.defer(site.state, "main.plates.ends", "main.hips", "no preservative on site"))


def returned(site: Site) -> None:
    site.do(actions.accept(site.state, "main.plates.levels", False, "8 mm low at C"), "A. Tiler")


def stopped(site: Site) -> None:
    site.do(actions.read_caution(site.state, library(), "weather-wind", "31 38"))


def measured_out(site: Site) -> None:
    """A rectangle that leans 40 mm: alike in its sides, 66 apart in its diagonals."""
    lean = {"ab": "9000", "bc": "6000", "cd": "9000", "da": "6000", "ac": "10850", "bd": "10784"}
    site.answer("main.plates.sides", lean)


CASES: list[tuple[Callable[[Site], None], str, str]] = [
    (measured_out, "out", "diagonals differ by 66"),
    (lambda s: s.answer("main.plates.sides", SIDES), "unsure", "diagonals differ by 11"),
    (lambda s: s.do(actions.snag(s.state, "main.plates.straps", "strap loose at B", who="A. Dunn", due="2025-12-01")),
     "snags", "Snag 1: strap loose at B at Straps: widest spacing"),
    (lambda s: s.do(actions.snag(s.state, "", "mud on the plates")), "snags", "nobody named to fix it"),
    (lambda s: s.do(actions.draw(s.state, "main", {"length": "9100"})), "stale", "Four sides"),
    (stopped, "stopped", "mean 31 mph, gust 38 mph"),
    (deferred, "deferred", "left till Hips: no preservative on site"),
    (lambda s: None, "open", "Common rafter for the span as built"),
    (lambda s: s.do(actions.skip(s.state, "main.plates.ends", "steel ring beam")), "aside", "steel ring beam (M. Reed"),
    (lambda s: None, "unsigned", "Hand over, a hold"),
    (lambda s: None, "unread", "hot air and sparks on a timber roof: read it before handover"),
    (returned, "returned", "8 mm low at C (A. Tiler"),
    (at_once, "once", "Brush cut ends"),
    (late, "late", "of 24 Nov 2025 07:31"),
    (doubted, "doubted", "with T2"),
    (doubted, "doubted", "T2 was marked bad by M. Reed, "),
    (doubted, "doubted", ": hook bent"),
]  # fmt: skip


@pytest.mark.parametrize(("act", "kind", "words"), CASES, ids=lambda one: one if isinstance(one, str) else "")
def test_whatever_is_not_as_it_should_be_stands_on_the_first_page(
    site: Site, act: Callable[[Site], None], kind: str, words: str
) -> None:
    act(site)
    pack = site.pack()
    assert kind in section_ids(pack), section_ids(pack)
    section = next(s for s in pack.first if s.id == kind)
    assert words in " ".join(text(replace(pack, first=(section,), rest=())).split())
    assert words in Page(html(replace(pack, first=(section,), rest=()))).said


def test_a_checklist_that_says_something_else_now_is_told_by_its_name(site: Site) -> None:
    known = library()
    changed: Library = structs.replace(known, digests={**known.digests, "hipped": "0" * 64})
    pack = make(replay(changed, site.entries), changed, "tiler", site.now)
    assert "Newer checklists than this job uses" in Page(html(pack)).said and "changed" in section_ids(pack)


def test_two_devices_that_answered_apart_are_both_told(site: Site) -> None:
    straps = next(e for e in site.entries if e.path == "main.plates.straps" and e.act == "answer")
    other = replace_entry(straps, {"spacing": 2400.0, "fixing": 150.0}, site)
    site.entries = [*site.entries, other]
    site.state = replay(library(), site.entries)
    pack = site.pack()
    assert "rivals" in section_ids(pack)
    assert "A. Dunn" in first_page(pack)


def replace_entry(entry: Entry, value: dict[str, float], site: Site) -> Entry:
    from sitelog.job.log.entry import Draft

    draft = Draft(act="answer", part=entry.part, check=entry.check, value=value)
    return seal(draft, Author(by="A. Dunn", device="d2", now=site.now), None, "")


def test_the_order_of_the_first_page_is_let_go_then_out_then_snags_then_stale(site: Site) -> None:
    site.do(actions.snag(site.state, "", "mud"))
    measured_out(site)
    site.do(actions.draw(site.state, "main", {"pitch": "36"}))
    kinds = section_ids(site.pack())
    assert [k for k in kinds if k in ("released", "out", "snags", "stale")] == sorted(
        (k for k in kinds if k in ("released", "out", "snags", "stale")),
        key=["released", "out", "snags", "stale"].index,
    )
    assert kinds[0] == "released"


# --- nothing stale ---------------------------------------------------------------------------------------------------


def test_a_stale_figure_and_all_that_rests_on_it_is_withheld_everywhere(built: Site) -> None:
    """The plates' six lengths, and the hips and ridge that were worked from them, are told before and not after."""
    figures = ["8996", "6003", "9001", "10819", "10808", "4737", "4739"]
    assert all(figure in told(built.pack()) for figure in figures)
    site = copy.copy(built)
    site.do(actions.draw(site.state, "main", {"length": "9100"}))
    pack = site.pack()
    for said in (told(pack), " ".join(text(pack).split())):
        assert not [figure for figure in figures if re.search(rf"\b{figure}\b", said)]
        assert "plan: OUT OF DATE, not shown: do again first: Four sides" in said
        assert f"OUT OF DATE, not shown: {site.state.facts['main.ab'].says}; " in said and " changed since" in said


def test_a_check_let_go_before_it_went_stale_is_told_as_both(built: Site) -> None:
    site = copy.copy(built)
    site.do(actions.draw(site.state, "main", {"length": "9100"}))
    assert "It was TOO CLOSE (OUT OF DATE, not shown)" in first_page(site.pack())
    assert "released, OUT OF DATE" in told(site.pack())


def test_a_corrected_answer_stands_with_what_it_was_by_whom_and_why(built: Site) -> None:
    assert "corrections" not in {section.id for section in built.pack().rest}
    built = copy.copy(built)
    span = {"middle": "6010", "at_p": "6011", "at_q": "6012"}
    built.answer("main.plates.span", span)
    built.answer("main.plates.span", span | {"at_p": "6009"}, note="read from the wrong face")
    (section,) = (one for one in built.pack().rest if one.id == "corrections")
    (table,) = (block for block in section.blocks if isinstance(block, Table))
    (_, was, by, now, reason) = table.rows[-1]
    assert "6011" in was and "6009" not in was
    assert (by.split("\n")[0], now.split("\n")[0], reason) == ("M. Reed", "M. Reed", "read from the wrong face")


def test_the_gauge_is_withheld_with_its_marks_when_the_slope_is_read_again(built: Site) -> None:
    marks = "Batten top edges from eaves"
    assert marks in told(built.pack())
    site = copy.copy(built)
    lengths = dict.fromkeys(("ab_p", "ab_q", "bc", "cd_q", "cd_p", "da"), "4050")
    site.answer("main.tiler.slopes", lengths)
    said = told(site.pack())
    assert marks not in said and "Gauge for slope AB, plain tiles: OUT OF DATE, not shown" in said


def test_a_sum_that_nobody_accepted_is_marked_so(built: Site) -> None:
    site = copy.copy(built)
    gauge = site.state.check("main.tiler.gauge-plain")
    assert gauge is not None
    site.do(actions.defer(site.state, gauge.path, "job.handover", "tiles not here to measure"))
    assert "Gauge for slope AB, plain tiles: later; nobody has signed this off." in told(site.pack())


# --- what it holds ---------------------------------------------------------------------------------------------------


def test_the_pack_has_slopes_hips_gauge_finish_cautions_sign_offs_points_checks_head_code_and_limits(
    built: Site,
) -> None:
    pack = built.pack()
    titles = [section.title for section in pack.rest]
    for title in ("Main roof: drawings", "Main roof: sizes as built", "Main roof: sizes worked out",
                  "Main roof: finish, and what it needs", "Points for the tiler to accept", "Cautions that apply",
                  "Signed, or carried on as it is", "Checks: Main roof, wall plates",
                  "Record code", "What this program does not decide", "Sources"):  # fmt: skip
        assert title in titles
    assert f"Record code {built.state.head} after {built.state.entries} entries" in told(pack)


def _table(site: Site, section: str, caption: str) -> Table:
    found = next(one for one in site.pack().rest if one.id == section)
    return next(one for one in found.blocks if isinstance(one, Table) and one.caption == caption)


def test_the_hips_of_the_pack_are_the_lengths_that_the_roof_calculator_gives_for_these_plates(built: Site) -> None:
    from sitelog.calculators import index
    from tests.reports.by_hand import rows

    roof = index.find("roof")(**{key: float(size) for key, size in SIDES.items()}, pitch=35.0)
    table = _table(built, "main-worked", "Hip lines")
    for row, hip in zip(table.rows, rows(roof.results["hips"]), strict=True):
        assert row[0] == f"Hip at {str(hip['corner']).upper()} for the corner as built"
        # The hip's own check starts from the run at its end of the ridge, and the corner: 1 mm at most apart.
        assert float(row[1].split()[0]) == pytest.approx(float(hip["length"] or 0), abs=1.5)


def test_every_slope_has_its_length_at_both_ends_as_read(built: Site) -> None:
    table = _table(built, "main-measured", "For the tiler")
    assert [row[0] for row in table.rows] == ["AB", "BC", "CD", "DA"]
    assert table.rows[0][1].startswith("P 4005") and "\nQ 4005" in table.rows[0][1]
    assert table.rows[1][2].startswith("6603 (drawn 6600")


def test_a_point_that_was_accepted_is_told_with_the_name(built: Site) -> None:
    site = copy.copy(built)
    site.do(actions.accept(site.state, "main.plates.levels", True, "seen"), "A. Tiler")
    assert "accepted by A. Tiler, 24 Nov 2025" in told(site.pack())


def test_every_limit_says_whose_it_is_and_a_house_limit_is_never_told_as_published(built: Site) -> None:
    said = told(built.pack())
    assert "within 10 mm (house)" in said and "at most 2000 mm (published)" in said
    assert "within 10 mm (published)" not in said


def test_no_page_says_that_all_is_done(built: Site) -> None:
    for said in (Page(html(built.pack())).said, text(built.pack())):
        assert not re.search(r"\b100\s?%", said)


def test_a_job_in_feet_and_inches_gives_its_lengths_so() -> None:
    site = Site(units="imperial")
    site.up_to("main.first-pair.common", {"main.plates.sides": SIDES})
    said = told(replace(site.pack(), first=()))
    assert "29' 6 3/16\"" in said and "8996" not in said  # 8996 mm is 354.173 in
    assert "Lengths are in feet and inches." in said


def test_times_are_told_by_the_clock_on_the_wall_where_they_were_entered(built: Site) -> None:
    from datetime import timedelta, timezone

    site = Site()
    zone = timezone(timedelta(hours=1))
    site.now = site.now.replace(month=7).astimezone(zone)
    site.do(actions.snag(site.state, "", "mud"))
    assert "raised by M. Reed, 24 Jul 2025 08:44" in told(make(site.state, library(), "tiler", built.now))


# --- the pages themselves --------------------------------------------------------------------------------------------


def test_the_page_is_balanced_and_needs_nothing_from_outside(built: Site) -> None:
    page = Page(html(built.pack()))
    assert {"svg", "table", "thead", "section"} <= page.tags
    assert not page.tags & {"script", "link", "img", "iframe", "object", "form", "input", "base"}
    for name, value in page.attributes:
        assert not name.startswith("on") and name not in ("src", "srcset", "action")
        assert name != "href" or value.startswith("#")
    assert "url(" not in html(built.pack()) and "@import" not in html(built.pack())


def test_the_page_has_its_drawings_as_sound_svg(built: Site) -> None:
    from xml.etree import ElementTree

    pack = built.pack()
    drawings = re.findall(r"<svg.*?</svg>", html(pack), re.S)
    made = [block for section in pack.rest for block in section.blocks if isinstance(block, Drawing)]
    assert len(drawings) == len(made) > 2 and all(ElementTree.fromstring(one) is not None for one in drawings)


def test_plain_text_is_80_columns_at_most(built: Site) -> None:
    assert max(cell_len(line) for line in text(built.pack()).split("\n")) <= 80


def test_the_same_job_gives_the_same_bytes_whatever_the_terminal(built: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    before = html(built.pack()), text(built.pack())
    for name, value in (("COLUMNS", "200"), ("FORCE_COLOR", "1"), ("TERM", "xterm-256color"), ("NO_COLOR", "1")):
        monkeypatch.setenv(name, value)
    assert (html(built.pack()), text(built.pack())) == before


HOSTILE = (
    "<script>alert(1)</script> \"'><b onclick=x>&amp; [red]x[/red] [/2 battens] "
    "\x1b[31m\x9b2J\x07\u202e\u200b {{x}} 日本" + "x" * 300
)


def hostile(site: Site) -> Pack:
    """Every text that a person can give, put past the door that cleans what is typed."""
    state = site.state
    plate = state.check("main.plates.sides")
    assert plate is not None
    parts = tuple(structs.replace(p, title=HOSTILE) for p in state.parts)
    bad = structs.replace(
        state,
        title=HOSTILE,
        place=HOSTILE,
        head=HOSTILE,
        parts=parts,
        snags=tuple(structs.replace(s, text=HOSTILE, who=HOSTILE, due=HOSTILE, by=HOSTILE) for s in state.snags),
        releases=tuple(structs.replace(r, reason=HOSTILE, by=HOSTILE, was=HOSTILE) for r in state.releases),
        readings=tuple(structs.replace(r, answer=HOSTILE, by=HOSTILE) for r in state.readings),
        deferrals=tuple(structs.replace(d, reason=HOSTILE, by=HOSTILE, until=HOSTILE) for d in state.deferrals),
        points=tuple(structs.replace(p, note=HOSTILE, by=HOSTILE) for p in state.points),
        changed_lists=(HOSTILE,),
        order=tuple(
            structs.replace(
                s,
                by=HOSTILE,
                reason=HOSTILE,
                checks=tuple(structs.replace(c, note=HOSTILE, by=HOSTILE, instrument=HOSTILE) for c in s.checks),
            )
            for s in state.order
        ),
    )
    return make(bad, library(), "tiler", site.now)


@pytest.fixture
def hostile_pack(site: Site) -> Pack:
    site.do(actions.snag(site.state, "main.plates.straps", "x", who="y"))
    deferred(site)
    returned(site)
    stopped(site)
    return hostile(site)


def test_markup_in_any_text_is_only_text(hostile_pack: Pack) -> None:
    page = Page(html(hostile_pack))
    assert "script" not in page.tags and not [name for name, _ in page.attributes if name.startswith("on")]
    assert "<script>alert(1)</script>" in page.said and "[red]x[/red]" in page.said
    assert "[red]x[/red] [/2 battens]" in told(hostile_pack)


def test_no_control_or_bidi_character_reaches_a_page(hostile_pack: Pack) -> None:
    for made in (html(hostile_pack), text(hostile_pack)):
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069]", made)


def test_long_and_wide_words_stay_in_80_columns(hostile_pack: Pack) -> None:
    assert max(cell_len(line) for line in text(hostile_pack).split("\n")) <= 80


# --- on the disk -----------------------------------------------------------------------------------------------------


def test_the_pack_is_written_as_page_and_text_under_job_and_trade(built: Site, tmp_path: Path) -> None:
    made = write(built.pack(), tmp_path / "pack", "kiln-lane")
    briefs = [f"brief-tiler.{one}" for one in ("pdf", "html", "txt")]
    names = [*briefs, "record.pdf", "record.html", "record.txt", "members.csv", "batches.csv", "order.csv"]
    assert [path.name for path in made] == [f"kiln-lane-{name}" for name in names]
    assert made[4].read_bytes() == html(built.pack()).encode() and made[5].read_bytes() == text(built.pack()).encode()
    assert {p.name for p in (tmp_path / "pack").iterdir()} == {path.name for path in made}


@pytest.mark.parametrize("stem", ["../kiln", "a/b", "..", "C:\\x", "\x1b[2J", ""])
def test_no_name_leads_out_of_the_folder(built: Site, tmp_path: Path, stem: str) -> None:
    folder = tmp_path / "in" / "pack"
    for path in write(built.pack(), folder, stem):
        assert path.resolve().parent == folder.resolve() and path.exists()
    assert sorted(p.name for p in tmp_path.rglob("*") if p.is_file()) == sorted(p.name for p in folder.iterdir())


def test_a_pack_that_can_not_be_saved_is_refused_and_the_old_one_stands(
    built: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "k-record.html").write_text("old")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(Refusal, match="disk is full") as caught:
        write(built.pack(), tmp_path, "k")
    assert caught.value.code == NOT_SAVED
    assert [p.name for p in tmp_path.iterdir()] == ["k-record.html"]
    assert (tmp_path / "k-record.html").read_text() == "old"


def test_a_folder_that_is_a_file_is_refused(built: Site, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(Refusal) as caught:
        write(built.pack(), tmp_path / "file", "k")
    assert caught.value.code == NOT_SAVED


@pytest.mark.parametrize("typed", ["tiler", " Tiler ", "TILER"])
def test_a_trade_is_found_however_it_is_written(built: Site, typed: str) -> None:
    assert built.pack(typed).to == "tiler"
