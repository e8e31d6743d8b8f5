"""What was entered about the job as a whole: snags, releases, deferrals, readings, instruments, the diary, points."""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.checklist.schema.model import Library
from sitelog.job.cautions.due import reading
from sitelog.job.facts.given import decided
from sitelog.job.facts.schema import JOB
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.photos.photo import photos_of
from sitelog.job.state.record_views import (
    COUNTED,
    Alike,
    Deferral,
    DiaryDay,
    Instruction,
    Instrument,
    Made,
    Point,
    Reading,
    Release,
    Snag,
    Tally,
)
from sitelog.job.state.views import StageView
from sitelog.quantities.quantity import Units


class Heading(Struct, frozen=True):
    """What the job is called and where it is; all of it "" before it is started."""

    id: str = ""
    title: str = ""
    place: str = ""
    units: Units = "metric"


def heading(entry_index: EntryIndex) -> Heading:
    """The heading that the job was started with."""
    start = entry_index.start
    if start is None:
        return Heading()
    units: Units = "imperial" if start.value.get("units") == "imperial" else "metric"
    return Heading(start.id, str(start.value.get("title", "")), str(start.value.get("place", "")), units)


def titles(library: Library, entry_index: EntryIndex) -> dict[str, tuple[str, str]]:
    """Each part's title and form by its id, the job's own part first."""
    found = {JOB: (library.lists[JOB].title, JOB)}
    for part, entry in entry_index.parts.items():
        found.setdefault(part, (str(entry.value.get("title", part)), str(entry.value.get("form", ""))))
    return found


def snags(entry_index: EntryIndex) -> tuple[Snag, ...]:
    """Every snag by the number that it was given. Of two with one number, off two devices, the later takes the next."""
    found: dict[str, Snag] = {}
    numbers: dict[str, str] = {}  # entry -> the snag's number
    highest = 0
    replies: set[str] = set()  # each point of a reply once, though two copies of the job took it in
    for entry in entry_index.all("snag"):
        of_reply = str(entry.value.get("reply", ""))
        if of_reply and of_reply in replies:
            continue
        replies.add(of_reply)
        wanted = _number(entry.value.get("id"))
        given = wanted if wanted and str(wanted) not in found else highest + 1
        highest = max(highest, given)
        number = numbers[entry.id] = str(given)
        words = {key: str(entry.value.get(key, "")) for key in ("text", "who", "due")}
        found[number] = Snag(number, path=entry.path, by=entry.by, at=entry.at, entry=entry.id, **words)
    for entry in entry_index.all("close"):
        number = numbers.get(str(entry.value.get("entry", "")), str(entry.value.get("id", "")))
        if number in found and found[number].open:
            found[number] = replace(found[number], closed_by=entry.by, closed_at=entry.at)
    return tuple(found.values())


def instructions(entry_index: EntryIndex) -> tuple[Instruction, ...]:
    """Every instruction by its number, one taken back too. Of two with one number the later takes the next."""
    found: dict[int, Instruction] = {}
    for entry in entry_index.all("instruct"):
        wanted = _number(entry.value.get("id"))
        number = wanted if wanted and wanted not in found else max(found, default=0) + 1
        words = {key: str(entry.value.get(key, "")) for key in ("text", "who", "day", "hours", "timber", "photo")}
        found[number] = Instruction(
            id=str(number),
            path=entry.path,
            by=entry.by,
            at=entry.at,
            photos=photos_of(entry.value),
            undone=entry.id in entry_index.voided,
            **words,
        )
    return tuple(found[number] for number in sorted(found))


def tallies(entry_index: EntryIndex) -> tuple[Tally, ...]:
    """What has been counted of each kind of piece, all entries of one kind and length together."""
    found: dict[tuple[Alike, float], Tally] = {}
    for entry in entry_index.all("tally"):
        value = entry.value
        alike = Alike(entry.part, *(str(value.get(name, "")) for name in ("what", "section", "cuts", "hand")))
        length = 0.0
        if isinstance(value.get("length"), (int, float)):
            length = float(value["length"])
        before = found.get((alike, length), Tally(alike, length, 0, 0, 0, "", ""))
        more = {name: getattr(before, name) + _whole(value.get(name)) for name in COUNTED}
        found[alike, length] = replace(before, by=entry.by, at=entry.at, **more)
    return tuple(found.values())


def _whole(value: object) -> int:
    """The whole number that an entry holds; nought for anything else."""
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    return 0


def next_number(numbered: Sequence[Snag] | Sequence[Instruction]) -> str:
    """The number for the next of them: one more than the highest given."""
    return str(max((_number(record.id) for record in numbered), default=0) + 1)


def _number(id: object) -> int:
    """The number that a snag was given; nought if it is none."""
    text = str(id)
    if text.isascii() and text.isdecimal() and len(text) < 10:
        return int(text)
    return 0


def releases(entry_index: EntryIndex) -> tuple[Release, ...]:
    """Every check and stage that was let go, in order of entry."""
    return tuple(
        Release(entry.path, entry.note, entry.by, entry.at, str(entry.value.get("was", "")))
        for entry in entry_index.all("release")
    )


def deferrals(entry_index: EntryIndex, order: Sequence[StageView]) -> tuple[Deferral, ...]:
    """Every deferral; it is open while it is the last word on a check that applies and that nothing has let go."""
    shown = (view for stage in order for view in stage.shown)
    waiting = {view.path: view for view in shown if view.state in ("deferred", "snagged")}
    found = []
    for entry in entry_index.all("defer"):
        last = decided(waiting[entry.path].history) if entry.path in waiting else None
        is_open = last is not None and last.id == entry.id
        until = str(entry.value.get("until", ""))
        found.append(Deferral(entry.path, until, entry.note, entry.by, entry.at, is_open))
    return tuple(found)


def readings(library: Library, entry_index: EntryIndex) -> tuple[Reading, ...]:
    """Every reading of a caution, in order of entry."""
    return tuple(reading(library, entry) for entry in entry_index.all("read"))


def instruments(entry_index: EntryIndex) -> dict[str, Instrument]:
    """The register by name. What was marked bad once stays so: a mended one comes back under another name."""
    doubted = {str(entry.value.get("id", "")): entry for entry in reversed(entry_index.all("doubt"))}
    found = {}
    for entry in entry_index.all("instrument"):
        name = str(entry.value.get("id", ""))
        found[name] = Instrument(name, str(entry.value.get("kind", "")), str(entry.value.get("class", "")))
        if bad := doubted.get(name):
            found[name] = replace(found[name], doubted=True, by=bad.by, at=bad.at, why=bad.note)
    return found


def diary(entry_index: EntryIndex) -> tuple[DiaryDay, ...]:
    """A page for each day that anything was entered of, and what people wrote on it."""
    pages: dict[str, list[Entry]] = {}
    for entry in entry_index.all("diary"):
        pages.setdefault(str(entry.value.get("day", "")), []).append(entry)
    days = sorted(set(entry_index.days) | set(pages))
    return tuple(_day(day, entry_index.days.get(day, []), pages.get(day, [])) for day in days if day)


def _day(day: str, entries: Sequence[Entry], pages: Sequence[Entry]) -> DiaryDay:
    def last(key: str) -> str:
        return next((str(page.value[key]) for page in reversed(pages) if page.value.get(key)), "")

    return DiaryDay(
        day=day,
        entries=tuple(entries),
        weather=last("weather"),
        people=last("people"),
        deliveries=last("deliveries"),
        delays=last("delays"),
        text=tuple(str(page.value["text"]) for page in pages if page.value.get("text")),
        photos=tuple(photo for page in pages for photo in photos_of(page.value)),
    )


def points(entry_index: EntryIndex) -> tuple[Point, ...]:
    """What the next trade said last of each point: of two answers, that to the newer pack, whenever it came in."""
    found: dict[str, Point] = {}
    after: dict[str, str] = {}
    for entry in entry_index.all("accept"):
        name = str(entry.value.get("point", ""))
        answers_to = str(entry.value.get("after") or entry.id)
        if answers_to >= after.get(name, ""):
            after[name] = answers_to
            found[name] = _point(name, entry)
    return tuple(found.values())


def _point(name: str, entry: Entry) -> Point:
    words = {key: str(entry.value.get(key, "")) for key in ("head", "mark", "day")}
    return Point(name, entry.value.get("accepted") is True, entry.by, entry.at, entry.note, **words)


def packs(entry_index: EntryIndex) -> tuple[Made, ...]:
    """Every pack that was made, the last at the end."""
    return tuple(map(_pack, entry_index.all("handover")))


def _pack(entry: Entry) -> Made:
    to, head = (str(entry.value.get(key, "")) for key in ("to", "head"))
    return Made(to, head, entry.by, entry.at, numbered="points" in entry.value)


def changed_lists(library: Library, entry_index: EntryIndex) -> tuple[str, ...]:
    """The lists that this job uses whose text is not the one that was pinned to it, by id."""
    used = library.used_by(form for _, form in titles(library, entry_index).values())
    return tuple(name for name, digest in sorted(used.items()) if entry_index.pins.get(name, digest) != digest)
