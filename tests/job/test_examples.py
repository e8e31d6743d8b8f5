"""What other programs are shown for each figure may be typed there: it is read, asked about by nobody, and not out."""

from collections.abc import Callable, Iterator, Mapping

import pytest

from sitelog.calculators.catalogue import LIMITS
from sitelog.checklist.schema.model import Figure
from sitelog.job.actions import actions
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.examples import examples_of
from sitelog.job.show import check_data
from sitelog.job.state.verdicts import numbers
from sitelog.job.state.views import CheckView
from tests.forms.test_cut_roof import ROOF
from tests.forms.test_gabled import DRAWN as GABLED
from tests.forms.test_handed_over import FIGURES
from tests.forms.test_table_top import DRAWN as TABLE_TOP
from tests.reports.site import Site
from tests.shipped import library


def one(form: str, figures: Mapping[str, str]) -> Callable[[], Site]:
    return lambda: Site(parts=[("main", "Part", form, figures)])


JOBS: dict[str, Callable[[], Site]] = {
    "hipped": Site,
    "gabled": lambda: Site(form="gabled", more=GABLED),
    "table-top": lambda: Site(form="table-top", more=TABLE_TOP, pitch="45"),
    "cut-roof": one("cut-roof", {"building": ROOF, "design_mass": "70"}),
    **{form: one(form, figures) for form, figures in FIGURES.items()},
}
LONG, SLOW = ("cut-roof", "table-top"), pytest.mark.long
# What no figure alone puts right: somebody must be named who agrees a longer bay, or a lean-to of 15 degrees in tiles.
WORD_WANTED = {"main.finish.bay", "main.finish.headlap", "main.finish.pitch"}


def test_every_list_is_tried() -> None:
    assert set(JOBS) == set(library().forms())


@pytest.mark.parametrize("form", JOBS)
def test_each_figure_of_a_list_is_shown_with_one_that_it_takes(form: str) -> None:
    site = JOBS[form]()
    checked = 0
    for view, figure, text in shown(site):
        value = figure_value(site.state, library(), view, figure, text)
        low, high = LIMITS.get(figure.kind, (float("-inf"), float("inf")))
        assert all(low <= size <= high for size in numbers(value)), (view.path, figure.key, text)
        checked += 1
    assert checked > 20


def shown(site: Site) -> Iterator[tuple[CheckView, Figure, str]]:
    for view in site.state.checks():
        examples = examples_of(site.state, library(), view)
        for figure in view.check.figures:
            yield view, figure, examples[figure.key]


def test_an_example_is_of_its_own_place() -> None:
    site = JOBS["hipped"]()
    texts = {(view.path, figure.key): text for view, figure, text in shown(site)}
    assert texts["main.plates.sides", "ab"] == "9000", "as drawn"
    assert texts["main.plates.levels", "readings"] == ",".join("0" * 8), "one for each corner and middle"
    assert texts["main.ridge.spacing", "ridge"] == texts["main.ridge.spacing", "plate"], "held to the other"
    assert all(text != "3600" for (_, key), text in texts.items() if "thickness" in key)


@pytest.mark.parametrize("form", [pytest.param(form, marks=SLOW if form in LONG else ()) for form in JOBS])
def test_a_job_answered_by_its_examples_alone_has_nothing_out(form: str) -> None:
    site = JOBS[form]()
    while path := site.state.next:
        view = site.state.check(path)
        if view is None:
            site.sign(path)
            continue
        site.answer(path, typed(site, view))
        after = site.state.check(path)
        if after and after.state in ("out", "unsure"):
            assert path in WORD_WANTED, (path, after.figures)
            site.do(actions.release(site.state, path, "agreed with the designer on site"), "J. Hale")
    assert site.state.handed_over


def typed(site: Site, view: CheckView) -> dict[str, str]:
    """What the data says to type, as `sitelog record` reads it."""
    shown = check_data(view, site.state, library()).type
    words = [word.replace("FILE", "IMG_1").replace("WORDS", "P. Vale has it") for word in shown]
    parted = [word.rpartition("=") for word in words]
    return {key or "value": value for key, _, value in parted}
