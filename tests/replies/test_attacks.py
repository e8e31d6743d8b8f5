"""Altered, foreign, doubled, old and lost replies by chance: none changes what stands, and each is told apart."""

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from msgspec.structs import replace

from sitelog.job.log.entry import Author
from sitelog.job.replies.points import changed_since, numbered, standing
from sitelog.job.replies.reply import NOT_WHOLE, Reply, read_reply, summed, written
from sitelog.job.replies.taking import take
from sitelog.refusal import Refusal
from tests.length import LONG, grows
from tests.replies.desk import TODAY, Desk
from tests.replies.test_text import MESSENGERS

COUNT = 10_000 if LONG else 300
LETTERS = "abcdefghij 0123456789[]:,-'\"\n\u2019\u201c\u2014\u00e9\U0001f44d<>&"


class Attacks:
    """A job with two packs, between which its first point changed, and a reply to each that is entered already."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.chance = Random(seed)
        self.desk = Desk(folder / "kiln-lane.json")
        self.desk.drawings("R-101 A")
        self.desk.hand_over()
        self.then = self.desk.state
        self.desk.drawings("R-101 B")
        self.desk.hand_over()
        self.now = self.desk.state
        self.entered = self.some(self.now, by="A. Shaw")
        self.desk.enter(self.entered)
        self.before = (self.desk.job.file.path.read_bytes(), len(self.desk.job.entries), self.desk.state)
        self.told: Counter[str] = Counter()

    def some(self, state: object = None, by: str = "") -> Reply:
        """A reply to some of the points of the pack of then or of now."""
        numbers = self.chance.sample(range(1, len(numbered(self.now, "tiler")) + 1), self.chance.randint(1, 9))
        cut = self.chance.randint(0, len(numbers))
        back = {number: self.words() for number in numbers[cut:]}
        name = by or f"J. {self.words()}"
        return self.desk.reply(sorted(numbers[:cut]), back, by=name, state=state or self.now)  # type: ignore[arg-type]

    def words(self) -> str:
        """A few words of a roof, quotes, brackets, breaks and all."""
        return "w" + "".join(self.chance.choices(LETTERS, k=self.chance.randint(0, 30)))

    def refusal(self, text: str) -> str:
        """Why it is not entered: one line, and nothing has changed."""
        with pytest.raises(Refusal) as refused:
            take(self.desk.job, read_reply(text), TODAY)
        assert "\n" not in refused.value.message
        return refused.value.message

    # -- the kinds --

    def altered(self) -> None:
        text = written(self.some())
        at = self.chance.randrange(len(text))
        cut = self.chance.randint(1, 4)
        put = "".join(self.chance.choices(LETTERS, k=self.chance.randint(0, 3)))
        changed = self.chance.choice((
            text[:at] + put + text[at + cut :],
            text[:at],
            "\n".join(self.chance.sample(lines := text.split("\n"), len(lines))),
            text.replace(text.split("\n")[self.chance.randrange(1, 9)], ""),
            text.replace("accepted", "back", 1),
        ))  # fmt: skip
        try:
            assert read_reply(changed).sum == read_reply(text).sum, "what does not count was changed, and nothing else"
        except Refusal as refused:
            assert refused.message in (NOT_WHOLE, NOTHING), changed
            self.told[refused.message] += 1

    def foreign(self) -> None:
        other = summed(replace(self.some(), job="1700000000000-phone-02-000001", title=f"Dale {self.words()}"))
        assert self.refusal(written(other)).startswith("This reply is for another job, ")
        self.told["another job"] += 1

    def doubled(self) -> None:
        text = MESSENGERS[self.chance.choice([*MESSENGERS])](written(self.entered))
        assert self.refusal(text) == "This reply by A. Shaw is in the record already. Nothing was entered again"
        self.told["already"] += 1

    def lost(self) -> None:
        code = "".join(self.chance.choices("0123456789abcdef", k=20))
        known = self.some()
        wrong = self.chance.choice(({"code": code}, {"print": code[:8]}, {"to": "plumber"}, {"count": known.count + 1}))
        assert self.refusal(written(summed(replace(known, **wrong)))).startswith("No pack for the ")
        self.told["no pack"] += 1

    def old(self) -> None:
        """It may be entered, as an answer to its own pack: what was answered to the newer one stands, and no point
        that has changed since counts as accepted by it.
        """
        reply = self.some(self.then)
        found = take(self.desk.job, read_reply(written(reply)), TODAY)
        assert (found.newer, found.changed) == (True, tuple(number for number in reply.numbers if number == 1))
        assert {draft.value["head"] for draft in found.drafts if draft.act == "accept"} == {reply.code}
        after = self.desk.job.would_be(found.drafts, Author(by=reply.by, device="phone-02", now=self.desk.now))
        first = numbered(self.now, "tiler")[0].path
        before = self.before[2]
        for path, point in standing(before).items():
            assert standing(after)[path] == point, "the answer to the newer pack stands"
        assert all(
            changed_since(after, point) for point in after.points if point.point == first and point.head == reply.code
        )
        raised = [snag.text.partition(": ")[2] for snag in after.open_snags[len(before.open_snags) :]]
        assert len(raised) >= len(reply.back), "no word of a point that was sent back is lost"
        self.told["old"] += 1


NOTHING = "No reply in it. Give the reply file, or paste the text from [sitelog reply] to [sum ...]"


@grows
def test_ten_thousand_replies_that_are_not_good_change_nothing_and_are_told_apart(tmp_path: Path) -> None:
    attacks = Attacks(tmp_path, seed=20261130)
    kinds: list[Callable[[], None]] = [attacks.altered, attacks.foreign, attacks.doubled, attacks.lost, attacks.old]
    for number in range(COUNT):
        kinds[number % len(kinds)]()
    state = (attacks.desk.job.file.path.read_bytes(), len(attacks.desk.job.entries), attacks.desk.state)
    assert state == attacks.before
    assert min(attacks.told[kind] for kind in ("another job", "already", "no pack", "old")) == COUNT // 5
    assert attacks.told[NOT_WHOLE] > COUNT // 10
    attacks.desk.job.close()
