"""Acts about the job as a whole, not a check: its diary, tools, instructions and drawing figures."""

from collections.abc import Mapping, Sequence

from sitelog.calculators.catalogue import Value
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.job.actions.naming import a_day, check_at, on, one_of, said, why_said
from sitelog.job.actions.setup import design_value, not_less
from sitelog.job.facts.fact import Fact
from sitelog.job.log.entry import Draft
from sitelog.job.log.values import to_plain
from sitelog.job.photos.photo import Photo, kept, noted
from sitelog.job.state.records import next_number
from sitelog.job.state.views import State
from sitelog.quantities.slips import usual
from sitelog.refusal import Refusal
from sitelog.text import MOST, clean

PAGE = ("weather", "people", "deliveries", "delays", "text")  # what a diary page holds


def instruct(
    state: State,
    path: str,
    asked: Mapping[str, str],
    *,
    photos: Sequence[Photo] = (),
    photo: str = "",
) -> Draft:
    """Work that was asked beyond the drawing, at a check, a stage, a part or (path "") anywhere.

    `asked` has words for `text` (what), `who` (asked, with the firm), `day` (a date), `hours` and `timber`.
    Refusal without what, who and day, and for hours that are no number over 0.
    """
    if path and path not in {part.id for part in state.parts} and state.stage(path) is None:
        check_at(state, path)
    for key in ("text", "timber"):
        letters = len(asked.get(key, ""))
        if letters > MOST:
            raise Refusal(f"That has {letters} letters: {MOST} is the most. Put the rest into a second instruction")
    part, check = on(path)
    name = clean(photo)
    value: dict[str, object] = {
        "id": next_number(state.instructions),
        "text": said(asked.get("text", ""), 'Say what was asked, such as "trim for a second rooflight"', lines=True),
        "who": said(asked.get("who", ""), 'Say who asked, with the firm: --who "P. Vale, architect"'),
        "day": a_day(asked.get("day", "").strip(), "day"),
        "hours": _hours(asked.get("hours", "")),
        "timber": clean(asked.get("timber", ""), lines=True),
    }
    return Draft(act="instruct", part=part, check=check, value=value | noted(name) | kept(photos))


def _hours(text: str) -> str:
    """Hours as typed, "" for none. Refusal for what is no number over 0 and under 10,000."""
    words = clean(text).removesuffix("h").strip()
    number = words.replace(".", "", 1)
    if words and not (number.isascii() and number.isdecimal() and 0 < float(words) < 10_000):
        raise Refusal(f"Hours are {words!r}: type a number, such as 6 or 7.5, or leave it out")
    return words


def diary(day: str, photos: Sequence[Photo] = (), /, **fields: str) -> Draft:
    """What a person adds to the page of a day (ISO): weather, people, deliveries, delays, text, and photos."""
    for key in fields:
        one_of(key, PAGE, "site diary entry")
    words = {key: clean(text, lines=True) for key, text in fields.items()}
    given = {key: said for key, said in words.items() if said} | kept(photos)
    if not given:
        raise Refusal('Type the note in quotes after day: "rain till 10"')
    return Draft(act="diary", value={"day": a_day(day, "day")} | given)


def instrument(id: str, kind: str, grade: str = "") -> Draft:
    """A tape, level or meter by the name it goes by; `grade` is the class of a tape: I, II, III, or "" without one."""
    name = said(id, "Give the tool a name, such as T2")
    class_ = clean(grade).upper()
    if class_ and class_ not in CLASSES:
        raise Refusal(f"class: {class_!r} isn't a class of tape. Type I, II or III, or leave it out")
    return Draft(
        act="instrument", value={"id": name, "kind": said(kind, "Say what it is, such as tape"), "class": class_}
    )


def doubt(state: State, id: str, reason: str) -> Draft:
    """An instrument marked bad, for a reason: all that it measured is flagged."""
    tool = state.instruments[one_of(id, state.instruments, "tool")]
    if tool.doubted:
        raise Refusal(f"{tool.id} was already marked bad by {tool.by}")
    why = why_said(reason, f'To mark {tool.id} bad, add a reason: --reason "hook bent"')
    return Draft(act="doubt", value={"id": tool.id}, note=why)


def draw(state: State, part: str, texts: Mapping[str, str]) -> Draft:
    """Design figures of a part, first given or changed, by the name of the fact."""
    one_of(part, [known.id for known in state.parts], "part")
    values = {name: to_plain(_drawn(state, part, name, text)) for name, text in texts.items()}
    if not values:
        raise Refusal(f"{part}: add a figure, such as pitch=37")
    own = _facts_of(state, part)
    drawn = {name: fact.drawn for name, fact in own.items()} | values
    for name, fact in own.items():
        not_less(part, name, fact.says, fact.least, drawn)
    return Draft(act="drawn", part=part, value=values)


def _drawn(state: State, part: str, name: str, text: str) -> Value:
    known = _facts_of(state, part)
    asked = [own for own, fact in known.items() if fact.asked or fact.drawable]
    fact = known[one_of(name, asked, f"{part}: figure")]
    expected = fact.usual or usual(fact.kind, name)
    return design_value(fact.kind, fact.choices, text, f"{part}.{name} ({fact.says})", expected, fact=name)


def _facts_of(state: State, part: str) -> dict[str, Fact]:
    """The facts of a part by their own names."""
    found = {}
    for fact in state.facts.values():
        owner, name = fact.key
        if owner == part:
            found[name] = fact
    return found
