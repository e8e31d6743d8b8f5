"""The pages behind the job's: figures, snags, instruments, diary, find, sources, drawings; each gives a path or ""."""

from collections.abc import Callable
from datetime import UTC, date

from sitelog.job.actions import actions
from sitelog.job.facts.fact import MEANT, Fact
from sitelog.job.find import find as found_by
from sitelog.job.state.marks import state_word
from sitelog.job.state.record_views import DiaryDay, Instrument, Snag
from sitelog.lines.photos import attach_to_day, photos
from sitelog.lines.session import LineSession
from sitelog.lines.timber import timber
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter
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
CHANGE, GO = "change the drawing figure", "go to its check"
Told = list[tuple[str, str]]


def lines(told: Told) -> list[str]:
    """Each pair as one line, its first word before a colon."""
    return [f"{lead}: {words}" if lead else words for lead, words in told]


# -- figures --


def facts(session: LineSession, path: str) -> str:
    """Every figure by its number; one off the drawing can be changed, any other says where it is set."""
    facts = [fact for part in session.state.parts for fact in session.state.facts.values() if _of(fact) == part.id]
    for one in session.state.asked:
        session.talk.say(". ".join(lines(asked_lines(one, session.state, session.job.library.sources))))
    fact = facts[session.talk.pick("Which figure?", [_fact_row(session, one) for one in facts])]
    session.talk.say(*lines(fact_lines(fact, session.state)))
    check = check_of(fact, session.state)
    rows = [CHANGE] if can_be_drawn(fact) else []
    rows += [GO] if check else []
    if not rows:
        session.talk.say(elsewhere(fact, session.state))
    elif rows[session.talk.pick("What now?", rows)] == GO:
        return check
    else:
        _change(session, fact)
    return ""


def _change(session: LineSession, fact: Fact) -> None:
    if session.do(lambda: prompts.change(session.state, fact)):
        stale = len(session.state.stale)
        more = f" {counted(stale, 'check is', 'checks are')} now out of date." if stale else ""
        session.talk.say(f"{fact.says}: drawing figure changed.{more}")


def _of(fact: Fact) -> str:
    return fact.name.partition(".")[0]


def _fact_row(session: LineSession, fact: Fact) -> str:
    units, off = session.state.units, apart(fact, session.state)
    part = next((one.title for one in session.state.parts if one.id == _of(fact)), "")
    drawn = value_text(fact.unit, fact.drawn, units, typed=fact.drawn_typed)
    built = value_text(fact.unit, fact.built, units, typed=fact.built_typed)
    return f"{part}, {fact.says}: {MEANT[fact.whence]} {drawn}, built {built}{', difference ' + off if off else ''}"


# -- snags --


def snags(session: LineSession, path: str) -> str:
    """The open ones first; one is put right by its number, or a new one raised that belongs to no check."""
    found = sorted(session.state.snags, key=lambda one: not one.open)
    rows = [*(_snag_row(one) for one in found), "raise a snag on the job in general"]
    session.talk.say(f"Snags: {len(session.state.open_snags)} open of {len(session.state.snags)}")
    at = session.talk.pick("Which?", rows)
    if at == len(found):
        if session.do(lambda: prompts.snag(session.here(""))):
            session.talk.say(f"Snag {session.state.snags[-1].id} is raised.")
        return ""
    snag = found[at]
    session.talk.say(*lines(snag_lines(snag, session.state)))
    choices = (["mark it fixed"] if snag.open else []) + ([GO] if snag.path else [])
    if not choices:
        return ""
    if choices[session.talk.pick("What now?", choices)] == GO:
        return snag.path
    if session.named() and session.attempt(lambda: actions.close_snag(session.state, snag.id)):
        session.talk.say(f"Snag {snag.id} closed by {session.by}. Type undo to reopen it.")
    return ""


def _snag_row(snag: Snag) -> str:
    return f"{'open' if snag.open else 'fixed'}, snag {snag.id}: {snag.text}. {who_and_when(snag)}"


# -- instruments --


def instruments(session: LineSession, path: str) -> str:
    """Each tool with what was measured with it; one can be marked bad, or a new one put on the list."""
    tools = list(session.state.instruments.values())
    rows = []
    for tool in tools:
        used = counted(len(measured_with(tool.id, session.state)), "check")
        rows.append(f"{named(tool)}: {'MARKED BAD' if tool.doubted else used}")
    at = session.talk.pick("Which tool?", [*rows, "add a tool"])
    if at == len(tools):
        _register(session)
        return ""
    return _tool(session, tools[at])


def _tool(session: LineSession, tool: Instrument) -> str:
    """One tool: why it is bad, what it measured, and what can be done; the path to go on to, or ""."""
    if tool.doubted:
        session.talk.say(f"Bad: {tool.why} ({tool.by}, {day(tool.at)}). Everything measured with it is flagged.")
    views = measured_with(tool.id, session.state)
    rows = [f"go to: {view.check.ask}. {row_figures(view, session.state.units) or state_word(view)}" for view in views]
    bad = [] if tool.doubted else ["mark it bad"]
    if not (bad or rows):
        return ""
    at = session.talk.pick("What now?", [*bad, *rows])
    if at >= len(bad):
        return views[at - len(bad)].path
    if session.do(lambda: prompts.doubt(session.state, tool)):
        session.talk.say(f"{tool.id} is marked bad; {counted(len(views), 'check')} flagged. Undo takes that back.")
    return ""


def _register(session: LineSession) -> None:
    if not session.named():
        return
    name = session.question(prompts.Question("New tool", "What is written on it?", "name"))
    if name in session.state.instruments:
        session.talk.say(f"{name} is already on the list.")
    elif session.do(lambda: prompts.register(name, f"{name}: a new tool")):
        session.talk.say(f"{name} is on the list.")


# -- the diary --


def journal(session: LineSession, path: str) -> str:
    """The day as it was logged, then what is written on it, or another day. Goes on until it is left."""
    today = session.today
    known = days(session.state, today)
    at = known.index(today)
    while True:
        page = page_of(session.state, known[at])
        session.talk.say("", f"{date.fromisoformat(page.day):%A %d %B %Y}, day {at + 1} of {len(known)}")
        _say_day(session, page)
        keys = list(prompts.DIARY)
        rows = [*(f"write: {prompts.diary_label(key)}" for key in keys), PHOTO]
        moves = [step for step in (-1, 1) if 0 <= at + step < len(known)]
        rows += ["the day before" if step < 0 else "the day after" for step in moves]
        said = session.talk.pick("The site diary.", rows)
        if said < len(keys):
            _write(session, page, keys[said])
        elif rows[said] != PHOTO:
            at += moves[said - len(keys) - 1]
        elif attach_to_day(session, page.day):
            session.talk.say("Added to the site diary.")


def _say_day(session: LineSession, page: DiaryDay) -> None:
    logged = [entry for entry in page.entries if entry.act != "diary"]
    session.talk.say(*(f"{local_time(entry)} {what(entry, session.state)}. {entry.by}" for entry in logged))
    session.talk.say(*lines(day_lines(page)), *([] if logged else ["Nothing recorded this day."]))


def _write(session: LineSession, page: DiaryDay, key: str) -> None:
    if session.do(lambda: prompts.diary(page, key)):
        session.talk.say(f"{prompts.diary_label(key).capitalize()} is in the site diary.")


# -- looking things up --


def find(session: LineSession, path: str) -> str:
    """Ask for words, and which of what they find to go to."""

    def hear(text: str) -> str:
        if not found_by(session.state, text):
            raise Refusal("Nothing found. Try another word." if text else "Type a word to find.")
        return text

    words = session.talk.ask("Type a word of the check, note or snag.", hear)
    hits = found_by(session.state, words)
    if len(hits) > MOST:
        session.talk.say(f"{len(hits)} found, {len(hits) - MOST} more not shown. Add another word.")
    hits = hits[:MOST]
    hit = hits[session.talk.pick("Go to which?", [f"{hit.what}: {hit.line}" for hit in hits])]
    if not hit.path:
        session.talk.say("That snag isn't tied to a check. Type snag list to see it.")
    return hit.path


def sources(session: LineSession, path: str) -> str:
    """Where each check and caution of the stage comes from."""
    stage = session.state.stage(".".join(path.split(".")[:2]))
    tell = Formatter(session.state, session.job.library, session.now().tzinfo or UTC)
    for point in of_stage(tell, stage) if stage else ():
        session.talk.say("", f"{'Caution' if point.caution else 'Check'}: {point.title}")
        session.talk.say(*(f"{one.says + '. ' if one.says else ''}{one.where} ({one.standing})" for one in point.cited))
    return ""


def lists(session: LineSession, path: str) -> str:
    """What newer lists change and the earlier checks; then the job can be brought to the newest."""
    told = groups(session.job)
    for title, items in told:
        session.talk.say("", f"{title}:", *(". ".join([one.words, *lines(list(one.told))]) for one in items))
    if not session.state.changed_lists:
        session.talk.say(f"{NEWEST}{'' if told else ', and none of its earlier checks has gone'}.")
        return ""
    session.talk.say("", f"{OLDER}.")
    if not session.do(lambda: prompts.newest_lists(session.job.newest_lists)):
        return ""
    session.talk.say(f"{BROUGHT}, by {session.by}.")
    return (
        path
        if session.state.check(path) or session.state.stage(path)
        else session.state.next or session.state.order[0].path
    )


def drawing(session: LineSession, path: str) -> str:
    """Everything that is drawn of the part in hand, its sizes told in words."""
    from sitelog.reports.sketches import sketches

    part = part_of(session.state, path)
    found = sketches(session.state, session.job.library, part) if part else ()
    if not found:
        session.talk.say("No drawings for this part.")
    for one in found:
        session.talk.say("", f"{one.drawing.title if one.drawing else one.name}, in words.")
        session.talk.say(*(one.drawing.says if one.drawing else (one.why,)))
    return ""


def calculators(session: LineSession, path: str) -> str:
    """Any calculator, with what is known of the part in hand."""
    from sitelog.lines.calculators import work

    work(session, path.partition(".")[0])
    return ""


def handover(session: LineSession, path: str) -> str:
    """The points for the next trade, and the pack."""
    from sitelog.lines.handover import hand_over

    return hand_over(session)


# The page that an action opens, by its name in the table of actions.
PAGES: dict[str, Callable[[LineSession, str], str]] = {
    "drawing": drawing,
    "facts": facts,
    "sources": sources,
    "timber": timber,
    "photos": photos,
    "calculators": calculators,
    "journal": journal,
    "snags": snags,
    "instruments": instruments,
    "lists": lists,
    "handover": handover,
    "find": find,
}
