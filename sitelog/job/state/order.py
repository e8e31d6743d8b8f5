"""The order of work: how each stage stands, which hold bars the way, and what comes next."""

import operator
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from sitelog.checklist.schema.model import Library, Stage
from sitelog.job.cautions.applies import StageCautions
from sitelog.job.cautions.due import Latest, foremost, stopped
from sitelog.job.facts.cache import CachedStage
from sitelog.job.facts.given import decided
from sitelog.job.facts.schema import JOB, stages_of
from sitelog.job.facts.sums import holds
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.state.record_views import Deferral
from sitelog.job.state.standing import SETTLED, CheckContext, last_of
from sitelog.job.state.views import CheckView, PartView, StageState, StageView

PASSED: tuple[StageState, ...] = ("signed", "released")


def stage_view(library: Library, site: CheckContext, part: str, stage: Stage, latest: Latest) -> StageView:
    """The stage by itself, its checks with it; holds before it are not looked at yet."""
    path = f"{part}.{stage.id}"
    entries = site.entry_index.on(path)
    let_go = last_of(entries, "release")
    checks = tuple(site.check(part, stage, check, let_go) for check in stage.checks)
    ids, before = tuple(entry.id for entry in entries), site.stages.get(path)
    if before and before.ids == ids and _the_same(before.view.checks, checks):
        return before.view
    with site.resolver.reading() as reads:
        view = _look(library, site, part, stage, checks, latest)
    site.stages[path] = CachedStage(ids, frozenset(reads), view)
    return view


def _the_same(checks: Sequence[CheckView], others: Sequence[CheckView]) -> bool:
    return len(checks) == len(others) and all(map(operator.is_, checks, others))


def judged_by(entry_index: EntryIndex, chosen: Mapping[str, str]) -> tuple[object, ...]:
    """What any stage's cautions hang on besides facts: what was read, chosen, set aside and let go."""
    aside = [entry for act in ("skip", "release") for entry in entry_index.all(act)]
    decisions = {entry.path: decided(entry_index.on(entry.path)) for entry in aside}
    read = tuple(entry.id for entry in entry_index.all("read"))
    return read, tuple(chosen.items()), tuple(entry.id for entry in aside), tuple(decisions.values())


def _look(
    library: Library, site: CheckContext, part: str, stage: Stage, checks: tuple[CheckView, ...], latest: Latest
) -> StageView:
    path = f"{part}.{stage.id}"
    closed = last_of(site.entry_index.on(path), "sign", "release")
    cautions = StageCautions(library, site.resolver, part, stage, site.aside).all(checks)
    state = _state(closed, checks)
    passed = closed if closed and state in PASSED else None
    return StageView(
        path=path,
        part=part,
        stage=stage,
        state=state,
        applies=holds(stage.when, lambda name: site.resolver.now(part, name)),
        blocked=stopped(path, cautions, latest),
        checks=checks,
        cautions=foremost(path, stage, cautions, latest),
        by=passed.by if passed else "",
        at=passed.at if passed else "",
        reason=passed.note if passed else "",
    )


def _state(closed: Entry | None, checks: Sequence[CheckView]) -> StageState:
    """A signature covers what stood when it was given: an answer entered since, or one gone stale, wants another.

    A release holds while what was answered since is good.
    """
    shown = [view for view in checks if view.applies]
    if not all(view.state in SETTLED for view in shown):
        return "open"
    if closed is None:
        return "done"
    if closed.act == "release":
        return "released"
    return "done" if any(_answered_since(view, closed) for view in shown) else "signed"


def _answered_since(view: CheckView, closed: Entry) -> bool:
    last = decided(view.history)
    return last is not None and last.id > closed.id


def in_order(parts: Sequence[PartView]) -> list[StageView]:
    """The stages that apply, in the order of work: the job's first, each part's own, the job's last."""
    first, own, last = [], [], []
    for part in parts:
        for stage in part.stages:
            if not stage.applies:
                continue
            if part.id != JOB:
                own.append(stage)
            elif stage.stage.place == "first":
                first.append(stage)
            else:
                last.append(stage)
    return [*first, *own, *last]


def barred(stages: Sequence[StageView]) -> list[StageView]:
    """The same stages, those after a hold that is neither signed nor released told so, and their checks with them.

    A hold bars what comes after it in its own part; one of the job's first stages bars every part; the job's last
    stages wait for every hold.
    """
    checks = {check.path: check for stage in stages for check in stage.shown}
    holds_open: list[StageView] = []
    found: list[StageView] = []
    for stage in stages:
        bar = next((hold for hold in holds_open if _bars(hold, stage)), None)
        found.append(_blocked(stage, checks, f"Sign {bar.path} first, or carry on as it is" if bar else stage.blocked))
        if stage.stage.hold and stage.state not in PASSED:
            holds_open.append(stage)
    return found


def _bars(hold: StageView, stage: StageView) -> bool:
    return hold.part == stage.part or hold.part == JOB or stage.part == JOB


def _blocked(stage: StageView, known: Mapping[str, CheckView], why: str) -> StageView:
    checks = tuple(_waiting(check, known, why) for check in stage.checks)
    if not why and _the_same(checks, stage.checks):
        return stage
    state: StageState = "waiting" if why and stage.state not in PASSED else stage.state
    return replace(stage, blocked=why, checks=checks, state=state)


def _waiting(view: CheckView, known: Mapping[str, CheckView], why: str) -> CheckView:
    """The check, blocked for that reason, or by one that must be done before it."""
    if why:
        return replace(view, blocked=why)
    for need in view.check.needs:
        path = f"{view.part}.{need}" if "." in need else f"{view.part}.{view.stage}.{need}"
        before = known.get(path)
        if before and before.state in ("open", "deferred"):
            return replace(view, blocked=f"{before.path} must be done first: {before.check.ask_in_full}")
    return view


def next_path(stages: Sequence[StageView], deferrals: Sequence[Deferral]) -> str:
    """The next thing to do: what is open and not barred, what was put off until here, or the stage to sign. Or ""."""
    due: dict[str, list[str]] = {stage.path: [] for stage in stages}
    for deferral in deferrals:
        if deferral.open:
            own = deferral.path.rpartition(".")[0]
            due[deferral.until if deferral.until in due else own].append(deferral.path)
    for stage in stages:
        path = "" if stage.blocked else _next_in(stage, due[stage.path])
        if path:
            return path
    return ""


def _next_in(stage: StageView, due: Sequence[str]) -> str:
    if due:
        return due[0]
    for check in stage.shown:
        if check.state in ("open", "out", "unsure", "stale") and not check.blocked:
            return check.path
    if stage.state in PASSED or not (stage.state == "done" or stage.stage.hold):
        return ""
    # A hold waits for what was put off in it, whenever that was to come back: nothing after it can be done before.
    return next((check.path for check in stage.shown if check.state == "deferred"), stage.path)


def part_view(library: Library, site: CheckContext, part: str, title: str, form: str, latest: Latest) -> PartView:
    """The part with its stages, each by itself."""
    own = site.resolver.forms[part]
    stages = tuple(stage_view(library, site, part, stage, latest) for stage in stages_of(library, own))
    return PartView(part, title, form, stages, own if own != form else "")
