"""How many pages a brief takes: two for the job and one a part, in every form, however much is wrong."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from sitelog.job.actions import actions
from sitelog.reports.formats import lettering, pdf, sheets
from sitelog.reports.formats.text import brief_text
from sitelog.reports.model import Pack, Table
from sitelog.reports.pack import trades
from tests.forms.test_gabled import DRAWN as GABLED
from tests.forms.test_handed_over import FIGURES
from tests.forms.test_table_top import DRAWN as TABLE_TOP
from tests.reports.site import Site

HIPPED = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
FORMS = {**FIGURES, "hipped": HIPPED, "gabled": {**HIPPED, **GABLED}, "table-top": {**HIPPED, **TABLE_TOP}}
LINED = {"main.finish.lining": {"value": "lead-code-6"}}


def pages(made: Pack) -> int:
    measure = lettering.measure()
    record = sheets.record_pages(made, measure)
    raw = pdf.pdf(sheets.brief_pages(made, measure, record), title="", subject="", foot="")
    return len(PdfReader(BytesIO(raw)).pages)


def held(made: Pack) -> None:
    """Two pages and one a part, as text at most 60 lines each."""
    parts = [leaf for leaf in made.brief if leaf.part]
    assert pages(made) == 2 + len(parts) == len(made.brief)
    assert len(brief_text(made).split("\n")) <= 60 * len(made.brief) + 1


@pytest.mark.parametrize("form", FORMS)
def test_each_form_alone_keeps_its_brief_to_three_pages_begun_and_done(form: str) -> None:
    site = Site(parts=[("main", "Part", form, FORMS[form])])
    begun = site.pack(trades(site.state)[0])
    held(begun)
    site.up_to("", LINED)
    for to in trades(site.state):
        made = site.pack(to)
        held(made)
        assert pages(made) == 3
        shown = [row for leaf in made.brief for block in leaf.blocks if isinstance(block, Table) for row in block.rows]
        assert len(shown) > 8, "there is something to set out from"


def test_four_parts_with_thirty_faults_take_two_pages_and_one_a_part() -> None:
    forms = ("hipped", "gabled", "barrel-dormer", "parapet-gutter")
    parts = [(f"p{number}", f"Part {number}", form, FORMS[form]) for number, form in enumerate(forms)]
    site = Site(parts=parts)
    site.up_to("p0.first-pair.common")
    for number in range(30):
        site.do(actions.snag(site.state, "p0", f"fault {number}: the wall is out, and the plate is packed with slate"))
    made = site.pack("tiler")
    held(made)
    table = next(block for block in made.brief[0].blocks if isinstance(block, Table))
    more = next(row[1] for row in table.rows if row[1].startswith("and "))
    assert int(more.split()[1]) >= 20 and "more" in more
