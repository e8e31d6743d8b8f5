"""Photos line by line: one attached or named at a check, and all of them told."""

from pathlib import Path

from sitelog.job.actions import actions
from sitelog.job.photos.choosing import Chosen, offered
from sitelog.job.photos.keeping import album
from sitelog.job.state.views import CheckView
from sitelog.lines.session import LineSession
from sitelog.wording.formatting import name_of, when
from sitelog.wording.prompts import attaching

NONE = Chosen()


def attach(session: LineSession, path: str) -> bool:
    """Photos on a check or a stage, with words if there are any; True when they were entered."""
    return _attach(
        session, lambda text, photos, name: actions.note(session.state, path, text, photos=photos, photo=name)
    )


def attach_to_day(session: LineSession, day: str) -> bool:
    """The same on the diary's page of a day (ISO)."""
    return _attach(session, lambda text, photos, name: attaching.on_page(day, text, photos, name))


def _attach(session: LineSession, draft_of: attaching.TextDraftOf) -> bool:
    if not session.named():
        return False
    offers = _offers(session)
    asked = attaching.questions(offers)
    typed = session.question(asked[0], lambda text: _chosen(session, text, offers))
    text, keeps = session.question(asked[1]), session.question(asked[2])
    found = _chosen(session, typed, offers)
    return session.attempt(
        lambda: attaching.with_photos(
            session.job,
            found,
            attaching.keeps(keeps),
            lambda photos, name: draft_of(text, photos, name),
            lambda told: shows_both(session, told),
        )
    )


def shows_both(session: LineSession, told: str) -> None:
    """Ask whether a photo serves a second check. Left where it does not."""
    session.question(attaching.twice(told), attaching.agreed)


def photo_of(session: LineSession, view: CheckView) -> tuple[Chosen, bool]:
    """The photo that a check wants, and whether time and place stay in it; none where it wants none."""
    if view.check.kind != "photo" and not view.check.photo:
        return NONE, False
    offers = _offers(session)
    which, _, whole = attaching.questions(offers)
    session.talk.say(*attaching.offer_lines(offers))
    typed = session.question(which, lambda text: _chosen(session, text, offers))
    return _chosen(session, typed, offers), attaching.keeps(session.question(whole))


def _offers(session: LineSession) -> tuple[Path, ...]:
    return offered(session.job.file.path.parent)


def _chosen(session: LineSession, text: str, offers: tuple[Path, ...]) -> Chosen:
    if text.strip():
        return attaching.chosen(text, session.job.file.path, offers)
    return NONE


def photos(session: LineSession, path: str) -> str:
    """Every photo, with its check and whether its file is there; the path of the check that one shows, or ""."""
    found = album(session.state, session.job.file.files)
    if not found:
        session.talk.say("No photos yet. Go to a check and type photo to add one.")
        return ""
    rows = [
        f"{name_of(photo.taken.path, session.state) or 'Site diary'}: {photo.taken.name}, {photo.taken.by}, "
        f"{when(photo.taken.at)}, {attaching.STANDS[photo.stand]}"
        for photo in found
    ]
    chosen = found[session.talk.pick("Go to which photo's check?", rows)]
    if not chosen.taken.path:
        session.talk.say("This photo isn't tied to a check.")
    return chosen.taken.path
