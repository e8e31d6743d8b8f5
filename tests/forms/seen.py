"""What a test of a form looks at: a check of its part as it stands, and a figure of it."""

from sitelog.job.state.views import CheckView
from tests.reports.site import Site


def check(site: Site, name: str, *, part: str = "main") -> CheckView:
    view = site.state.check(f"{part}.{name}")
    assert view is not None, name
    return view


def now(site: Site, name: str, *, part: str = "main") -> float:
    value = site.state.facts[f"{part}.{name}"].now
    assert isinstance(value, (int, float)), name
    return float(value)
