"""Slates and tiles by pitch and exposure: what a foreman types is held to the printed tables, or to the maker's own.

Readings and documents are invented for the demo.
"""

import pytest

from sitelog.job.actions import actions
from sitelog.reports.formatting import Formatter
from sitelog.wording.figures import fact_lines
from sitelog.wording.result import outcome_lines, verdict_lines
from tests.forms.seen import check
from tests.reports.site import BEGIN, Site
from tests.shipped import library


def covered(covering: str, stop: str, *, pitch: str = "35", exposure: str = "moderate") -> Site:
    site = Site(pitch=pitch)
    given = {"main.finish.covering": {"value": covering}, "main.finish.exposure": {"value": exposure}}
    site.up_to(f"main.finish.{stop}", given)
    return site


@pytest.mark.parametrize(
    ("covering", "pitch", "exposure", "texts", "state"),
    [
        # NHBC Standards 2020, 7.2.19, Table 12: 65, and 75 on a severe site
        ("plain-tiles", "40", "moderate", {"value": "65"}, "done"),
        ("plain-tiles", "40", "severe", {"value": "65"}, "out"),
        ("plain-tiles", "40", "severe", {"value": "75"}, "done"),
        ("plain-tiles", "34", "moderate", {"value": "65"}, "out"),
        # Slate suppliers' tables: 500 x 250 at 30 on a severe site 120 and 100; the safer
        ("slates-500x250", "30", "severe", {"value": "120"}, "done"),
        ("slates-500x250", "30", "severe", {"value": "100"}, "out"),
        ("slates-500x250", "27", "moderate", {"value": "100"}, "done"),
        ("slates-500x250", "27", "severe", {"value": "130"}, "out"),
        ("slates-400x200", "30", "severe", {"value": "110"}, "out"),  # tabled from 35 there
        ("slates-400x200", "35", "severe", {"value": "110"}, "done"),
        # A tile's own sheet: 17.5 degrees at 75, 15 at 100
        ("interlocking-smooth", "16", "moderate", {"value": "75"}, "out"),
        ("interlocking-smooth", "16", "moderate", {"value": "100"}, "done"),
        # From memory: nothing without the maker's document
        ("pantiles-clay", "40", "moderate", {"value": "75"}, "unsure"),
        ("pantiles-clay", "40", "moderate", {"value": "75", "who": "data sheet P2"}, "done"),
        # The maker's own, over the tables
        ("slates-500x250", "30", "severe", {"value": "100", "who": "data sheet 7"}, "done"),
        ("slates-500x250", "30", "severe", {"value": "130", "length": "550"}, "unsure"),
        ("slates-500x250", "30", "severe", {"value": "130", "length": "550", "who": "data sheet 9"}, "done"),
    ],
)
def test_a_headlap_is_held_to_the_safer_table_or_to_a_document(
    covering: str, pitch: str, exposure: str, texts: dict[str, str], state: str
) -> None:
    site = covered(covering, "headlap", pitch=pitch, exposure=exposure)
    site.answer("main.finish.headlap", texts)
    assert check(site, "finish.headlap").state == state


def test_both_tables_are_named_where_the_headlap_is_typed() -> None:
    site = covered("slates-500x250", "headlap", pitch="30", exposure="severe")
    site.answer("main.finish.headlap", {"value": "120"})
    told = "\n".join(outcome_lines(check(site, "finish.headlap"), site.state))
    assert "after BS 5534 since 2003" in told and "after BS 5534-1:1997" in told


def test_a_check_whose_figures_have_each_said_that_they_are_good_says_so_once() -> None:
    site = covered("slates-500x250", "headlap")
    site.answer("main.finish.headlap", {"value": "80"})
    told = verdict_lines(check(site, "finish.headlap"), site.state)
    assert [line for line in told if line.endswith("OK")] == [
        "headlap to lay: 80 mm, at least 70 mm, the larger of the tables (borrowed), OK"
    ]


def test_a_document_of_the_makers_is_kept_with_what_it_says() -> None:
    site = covered("slates-500x250", "headlap", exposure="severe")
    site.answer("main.finish.headlap", {"value": "100", "who": "data sheet 7, rev B"})
    fact = site.state.facts["main.cover_headlap"]
    assert (fact.now, fact.who) == (100.0, "data sheet 7, rev B")
    assert ("By", "data sheet 7, rev B") in fact_lines(fact, site.state)
    tell = Formatter(site.state, library(), BEGIN.tzinfo)  # type: ignore[arg-type]
    assert "data sheet 7, rev B" in tell.value(check(site, "finish.headlap"))


@pytest.mark.parametrize(
    ("covering", "lap", "gauge", "state"),
    [
        ("plain-tiles", "75", "95", "done"),
        ("plain-tiles", "75", "100", "out"),  # (265 - 75)/2 is 95
        ("slates-500x250", "120", "190", "done"),
        ("slates-500x250", "120", "200", "out"),  # (500 - 120)/2 is 190
        ("interlocking-smooth", "100", "320", "done"),
        ("interlocking-smooth", "100", "345", "out"),
    ],
)
def test_a_gauge_that_the_headlap_does_not_leave_is_out_where_it_is_typed(
    covering: str, lap: str, gauge: str, state: str
) -> None:
    site = covered(covering, "headlap", exposure="severe")
    site.answer("main.finish.headlap", {"value": lap})
    site.answer("main.finish.pitch", {"least": f"{check(site, 'finish.pitch').figures[0].drawn}", "gauge": gauge})
    assert check(site, "finish.pitch").state == state


@pytest.mark.parametrize(
    ("covering", "pitch", "texts", "state"),
    [
        ("slates-500x250", "35", {"least": "25"}, "done"),
        ("slates-500x250", "35", {"least": "20"}, "unsure"),  # two tables print 25, and nobody says otherwise
        ("slates-500x250", "35", {"least": "20", "who": "data sheet 7"}, "done"),
        ("slates-500x250", "22", {"least": "25"}, "out"),
        ("shingles-400", "35", {"least": "14"}, "done"),
        ("standing-seam-copper", "35", {"least": "6"}, "unsure"),  # from memory
        ("standing-seam-copper", "35", {"least": "6", "who": "P. Arden, coppersmith"}, "done"),
        ("standing-seam-copper", "5", {"least": "6", "who": "P. Arden, coppersmith"}, "out"),
        ("standing-seam-zinc", "35", {"least": "7"}, "unsure"),
        ("pantiles-clay", "30", {"least": "30"}, "unsure"),
        ("pantiles-clay", "30", {"least": "30", "who": "data sheet P2"}, "done"),
    ],
)
def test_a_least_pitch_that_is_not_the_printed_one_says_whose_it_is(
    covering: str, pitch: str, texts: dict[str, str], state: str
) -> None:
    site = covered(covering, "pitch", pitch=pitch)
    site.answer("main.finish.pitch", texts)
    assert check(site, "finish.pitch").state == state


def test_a_correction_to_a_severe_site_opens_headlap_and_gauge_again() -> None:
    site = covered("plain-tiles", "mass", pitch="40")
    assert check(site, "finish.headlap").state == check(site, "finish.pitch").state == "done"
    site.answer("main.finish.exposure", {"value": "severe"}, note="the site faces the estuary")
    assert check(site, "finish.headlap").state == "stale"


@pytest.mark.parametrize(
    ("weighed", "state", "told"),
    [
        ("70", "done", ""),
        ("72", "done", ""),
        (
            "78",
            "out",
            "11 % heavier than the roof was designed for: some authorities count this as structural from 10 %",
        ),
        (
            "82",
            "out",
            "17 % heavier than the roof was designed for: over 15 %: the engineer and building control",
        ),
        ("50", "out", "29 % lighter"),
    ],
)
def test_a_weight_that_is_not_the_one_designed_for_is_named_where_it_is_typed(
    weighed: str, state: str, told: str
) -> None:
    site = covered("plain-tiles", "mass", pitch="40")  # designed for 70
    site.answer("main.finish.mass", {"value": weighed})
    view = check(site, "finish.mass")
    assert view.state == state
    assert view.answer is not None
    assert told in " ".join(view.answer.notes)


def test_the_covers_weight_at_the_tiler_is_the_one_that_was_weighed() -> None:
    site = covered("plain-tiles", "mass", pitch="40")
    site.answer("main.finish.mass", {"value": "72"})
    site.up_to("main.tiler.cover")
    answer = check(site, "tiler.cover").answer
    assert answer is not None and answer.results["mass_per_m2"] == 72.0


def test_a_headlap_waits_for_the_exposure() -> None:
    site = Site(pitch="40")
    site.up_to("main.finish.exposure", {"main.finish.covering": {"value": "plain-tiles"}})
    site.do(actions.skip(site.state, "main.finish.exposure", "the map is at the office"))
    site.answer("main.finish.headlap", {"value": "65"})
    seen = check(site, "finish.headlap")
    assert seen.state == "unsure"
    assert "exposure" in seen.refusal
