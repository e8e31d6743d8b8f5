"""The pages behind the job's: figures, snags, instruments, diary, find, sources, drawings; each gives a path or ""."""

from datetime import UTC, date

from sitelog.job.actions import actions
from sitelog.job.find import find as found_by
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import MEANT, DiaryDay, Fact, Snag
from sitelog.lines.photos import attach_to_day
from sitelog.lines.session import Desk
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Teller
from sitelog.reports.sources import of_stage
from sitelog.wording.diary import day_lines, days, page_of
from sitelog.wording.entries import local_time, what
from sitelog.wording.figures import apart, asked_lines, can_be_drawn, check_of, elsewhere, fact_lines
from sitelog.wording.formatting import counted, day, part_of, row_figures, value_text
from sitelog.wording.lists import BROUGHT, NEWEST, OLDER, groups
from sitelog.wording.prompts import prompts
from sitelog.wording.prompts.tools import measured_with, named
from sitelog.wording.snags import snag_lines, who_and_when

MOST = 200  # rows found that are told
PHOTO = "attach a photo"
Told = list[tuple[str, str]]


def lines(told: Told) -> list[str]:
    return [f"{lead}: {words}" if lead else words for lead, words in told]


# -- figures --


def facts(desk: Desk, path: str) -> str:
    """Every figure by its number; one off the drawing can be changed, any other says where it is set."""
    facts = [fact for part in desk.state.parts for fact in desk.state.facts.values() if _of(fact) == part.id]
    for one in desk.state.asked:
        desk.talk.say(". ".join(lines(asked_lines(one, desk.state, desk.job.library.sources))))
    fact = facts[desk.talk.pick("Which figure?", [_fact_row(desk, one) for one in facts])]
    desk.talk.say(*lines(fact_lines(fact, desk.state)))
    check = check_of(fact, desk.state)
    rows = ["change the drawing figure"] if can_be_drawn(fact) else []
    rows += ["go to its check"] if check else []
    if not rows:
        desk.talk.say(elsewhere(fact, desk.state))
        return ""
    if rows[desk.talk.pick("What now?", rows)].startswith("go"):
        return check
    if desk.do(lambda: prompts.change(desk.state, fact)):
        stale = len(desk.state.stale)
        more = f" {counted(stale, 'check is', 'checks are')} now out of date." if stale else ""
        desk.talk.say(f"{fact.says}: drawing figure changed.{more}")
    return ""


def _of(fact: Fact) -> str:
    return fact.name.partition(".")[0]


def _fact_row(desk: Desk, fact: Fact) -> str:
    units, off = desk.state.units, apart(fact, desk.state)
    part = next((one.title for one in desk.state.parts if one.id == _of(fact)), "")
    drawn = value_text(fact.unit, fact.drawn, units, typed=fact.drawn_typed)
    built = value_text(fact.unit, fact.built, units, typed=fact.built_typed)
    return f"{part}, {fact.says}: {MEANT[fact.whence]} {drawn}, built {built}{', difference ' + off if off else ''}"


# -- snags --


def snags(desk: Desk, path: str) -> str:
    """The open ones first; one is put right by its number, or a new one raised that belongs to no check."""
    found = sorted(desk.state.snags, key=lambda one: not one.open)
    rows = [*(_snag_row(one) for one in found), "raise a snag on the job in general"]
    desk.talk.say(f"Snags: {len(desk.state.open_snags)} open of {len(desk.state.snags)}")
    at = desk.talk.pick("Which?", rows)
    if at == len(found):
        if desk.do(lambda: prompts.snag(desk.state, "")):
            desk.talk.say(f"Snag {desk.state.snags[-1].id} is raised.")
        return ""
    snag = found[at]
    desk.talk.say(*lines(snag_lines(snag, desk.state)))
    choices = (["mark it fixed"] if snag.open else []) + (["go to its check"] if snag.path else [])
    if not choices:
        return ""
    if choices[desk.talk.pick("What now?", choices)].startswith("go"):
        return snag.path
    if desk.named() and desk.attempt(lambda: actions.close_snag(desk.state, snag.id)):
        desk.talk.say(f"Snag {snag.id} closed by {desk.by}. Type undo to reopen it.")
    return ""


def _snag_row(snag: Snag) -> str:
    return f"{'open' if snag.open else 'fixed'}, snag {snag.id}: {snag.text}. {who_and_when(snag)}"


# -- instruments --


def instruments(desk: Desk, path: str) -> str:
    tools = list(desk.state.instruments.values())
    rows = [
        f"{named(tool)}: {'MARKED BAD' if tool.doubted else counted(len(measured_with(tool.id, desk.state)), 'check')}"
        for tool in tools
    ]
    at = desk.talk.pick("Which tool?", [*rows, "add a tool"])
    if at == len(tools):
        _register(desk)
        return ""
    tool = tools[at]
    if tool.doubted:
        desk.talk.say(f"Bad: {tool.why} ({tool.by}, {day(tool.at)}). Everything measured with it is flagged.")
    views = measured_with(tool.id, desk.state)
    rows = [f"go to: {view.check.ask}. {row_figures(view, desk.state.units) or state_word(view)}" for view in views]
    bad = [] if tool.doubted else ["mark it bad"]
    if not (bad or rows):
        return ""
    at = desk.talk.pick("What now?", [*bad, *rows])
    if at >= len(bad):
        return views[at - len(bad)].path
    if desk.do(lambda: prompts.doubt(desk.state, tool)):
        desk.talk.say(f"{tool.id} is marked bad; {counted(len(views), 'check')} flagged. Undo takes that back.")
    return ""


def _register(desk: Desk) -> None:
    if not desk.named():
        return
    name = desk.question(prompts.Question("New tool", "What is written on it?", "name"))
    if name in desk.state.instruments:
        desk.talk.say(f"{name} is already on the list.")
    elif desk.do(lambda: prompts.register(name, f"{name}: a new tool")):
        desk.talk.say(f"{name} is on the list.")


# -- the diary --


def journal(desk: Desk, path: str) -> str:
    """The day as it was logged, then what is written on it, or another day. Goes on until it is left."""
    today = desk.today
    known = days(desk.state, today)
    at = known.index(today)
    while True:
        page = page_of(desk.state, known[at])
        desk.talk.say("", f"{date.fromisoformat(page.day):%A %d %B %Y}, day {at + 1} of {len(known)}")
        logged = [entry for entry in page.entries if entry.act != "diary"]
        desk.talk.say(*(f"{local_time(one)} {what(one, desk.state)}. {one.by}" for one in logged))
        desk.talk.say(*lines(day_lines(page)), *([] if logged else ["Nothing recorded this day."]))
        keys = list(prompts.DIARY)
        rows = [*(f"write: {prompts.diary_label(key)}" for key in keys), PHOTO]
        moves = [step for step in (-1, 1) if 0 <= at + step < len(known)]
        rows += ["the day before" if step < 0 else "the day after" for step in moves]
        said = desk.talk.pick("The site diary.", rows)
        if said < len(keys):
            _write(desk, page, keys[said])
        elif rows[said] != PHOTO:
            at += moves[said - len(keys) - 1]
        elif attach_to_day(desk, page.day):
            desk.talk.say("Added to the site diary.")


def _write(desk: Desk, page: DiaryDay, key: str) -> None:
    if desk.do(lambda: prompts.diary(page, key)):
        desk.talk.say(f"{prompts.diary_label(key).capitalize()} is in the site diary.")


# -- looking things up --


def find(desk: Desk, path: str) -> str:
    def hear(text: str) -> str:
        if not found_by(desk.state, text):
            raise Refusal("Nothing found. Try another word." if text else "Type a word to find.")
        return text

    words = desk.talk.ask("Type a word of the check, note or snag.", hear)
    hits = found_by(desk.state, words)
    if len(hits) > MOST:
        desk.talk.say(f"{len(hits)} found, {len(hits) - MOST} more not shown. Add another word.")
    hits = hits[:MOST]
    hit = hits[desk.talk.pick("Go to which?", [f"{hit.what}: {hit.line}" for hit in hits])]
    if not hit.path:
        desk.talk.say("That snag isn't tied to a check. Type snag list to see it.")
    return hit.path


def sources(desk: Desk, path: str) -> str:
    stage = desk.state.stage(".".join(path.split(".")[:2]))
    tell = Teller(desk.state, desk.job.library, desk.now().tzinfo or UTC)
    for point in of_stage(tell, stage) if stage else ():
        desk.talk.say("", f"{'Caution' if point.caution else 'Check'}: {point.title}")
        desk.talk.say(*(f"{one.says + '. ' if one.says else ''}{one.where} ({one.standing})" for one in point.cited))
    return ""


def lists(desk: Desk, path: str) -> str:
    """What newer lists change and the earlier checks; then the job can be brought to the newest."""
    told = groups(desk.job)
    for title, items in told:
        desk.talk.say("", f"{title}:", *(". ".join([one.words, *lines(list(one.told))]) for one in items))
    if not desk.state.changed_lists:
        desk.talk.say(f"{NEWEST}{'' if told else ', and none of its earlier checks has gone'}.")
        return ""
    desk.talk.say("", f"{OLDER}.")
    if not desk.do(lambda: prompts.newest_lists(desk.job.newest_lists)):
        return ""
    desk.talk.say(f"{BROUGHT}, by {desk.by}.")
    return path if desk.state.check(path) or desk.state.stage(path) else desk.state.next or desk.state.order[0].path


def drawing(desk: Desk, path: str) -> str:
    """Everything that is drawn of the part in hand, its sizes told in words."""
    from sitelog.reports.sketches import sketches

    part = part_of(desk.state, path)
    found = sketches(desk.state, desk.job.library, part) if part else ()
    if not found:
        desk.talk.say("No drawings for this part.")
    for one in found:
        desk.talk.say("", f"{one.drawing.title if one.drawing else one.name}, in words.")
        desk.talk.say(*(one.drawing.says if one.drawing else (one.why,)))
    return ""


def calculators(desk: Desk, path: str) -> str:
    from sitelog.lines.calculators import work

    work(desk, path.partition(".")[0])
    return ""


def handover(desk: Desk, path: str) -> str:
    from sitelog.lines.handover import hand_over

    return hand_over(desk)
