"""Things looked up: a check by its words, the sources of a stage, the sizes of what is drawn."""

from datetime import UTC

from sitelog.job.find import find as found_by
from sitelog.lines.session import LineSession
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter
from sitelog.reports.sources import of_stage
from sitelog.wording.figures import cited_line
from sitelog.wording.formatting import part_of

MOST = 200  # rows found that are told


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
        session.talk.say(*map(cited_line, point.cited))
    return ""


def drawing(session: LineSession, path: str) -> str:
    """Everything that is drawn of the part in hand, its sizes told in words."""
    from sitelog.reports.sketches import sketches

    part = part_of(session.state, path)
    found = sketches(session.state, session.job.library, part) if part else ()
    if not found:
        session.talk.say("No drawings for this part.")
    for sketch in found:
        session.talk.say("", f"{sketch.title}, in words.")
        session.talk.say(*sketch.told)
    return ""
