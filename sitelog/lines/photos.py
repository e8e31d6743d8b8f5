"""Photos line by line: one attached or named at a check, and all of them told."""

from pathlib import Path

from sitelog.job.actions import actions
from sitelog.job.photos.keeping import Chosen, album, offered
from sitelog.job.state.views import CheckView
from sitelog.lines.session import Desk
from sitelog.wording.formatting import name_of, when
from sitelog.wording.prompts import attaching

NONE = Chosen()


def attach(desk: Desk, path: str) -> bool:
    """Photos on a check or a stage, with words if there are any; True when they were entered."""
    return _attach(desk, lambda text, photos, name: actions.note(desk.state, path, text, photos=photos, photo=name))


def attach_to_day(desk: Desk, day: str) -> bool:
    """The same on the diary's page of a day (ISO)."""
    return _attach(desk, lambda text, photos, name: attaching.on_page(day, text, photos, name))


def _attach(desk: Desk, draft_of: attaching.TextDraftOf) -> bool:
    if not desk.named():
        return False
    offers = _offers(desk)
    asked = attaching.questions(offers)
    typed = desk.question(asked[0], lambda text: _chosen(desk, text, offers))
    text, keeps = desk.question(asked[1]), desk.question(asked[2])
    found = _chosen(desk, typed, offers)
    return desk.attempt(
        lambda: attaching.with_photos(
            desk.job,
            found,
            attaching.keeps(keeps),
            lambda photos, name: draft_of(text, photos, name),
        )
    )


def photo_of(desk: Desk, view: CheckView) -> tuple[Chosen, bool]:
    """The photo that a check wants, and whether time and place stay in it; none where it wants none."""
    if view.check.kind != "photo" and not view.check.photo:
        return NONE, False
    offers = _offers(desk)
    which, _, whole = attaching.questions(offers)
    desk.talk.say(*attaching.offer_lines(offers))
    typed = desk.question(which, lambda text: _chosen(desk, text, offers))
    return _chosen(desk, typed, offers), attaching.keeps(desk.question(whole))


def _offers(desk: Desk) -> tuple[Path, ...]:
    return offered(desk.job.file.path.parent)


def _chosen(desk: Desk, text: str, offers: tuple[Path, ...]) -> Chosen:
    return attaching.chosen(text, desk.job.file.path, offers) if text.strip() else NONE


def photos(desk: Desk, path: str) -> str:
    """Every photo, with its check and whether its file is there; the path of the check that one shows, or ""."""
    found = album(desk.state, desk.job.file.files)
    if not found:
        desk.talk.say("No photos yet. Go to a check and type photo to add one.")
        return ""
    rows = [
        f"{name_of(one.taken.path, desk.state) or 'Site diary'}: {one.taken.name}, {one.taken.by}, "
        f"{when(one.taken.at)}, {attaching.STANDS[one.stand]}"
        for one in found
    ]
    chosen = found[desk.talk.pick("Go to which photo's check?", rows)]
    if not chosen.taken.path:
        desk.talk.say("This photo isn't tied to a check.")
    return chosen.taken.path
