"""Pieces of the cutting list counted: cut, up, spoiled; each count adds to those before it."""

from collections.abc import Mapping, Sequence

from sitelog.job.batches import Batch
from sitelog.job.log.entry import Draft
from sitelog.job.state.record_views import COUNTED
from sitelog.refusal import PROBLEM, Refusal
from sitelog.text import clean

MOST = 10_000  # pieces in one count


def tally(batch: Batch, counts: Mapping[str, str]) -> Draft:
    """More pieces of a batch `cut`, `up` or `spoiled`: whole numbers as typed, "" for none, minus to correct.

    A spoiled piece is one of those cut. Refusal for what is no whole number, for more than are wanted, and where fewer
    than none would be left.
    """
    more = {name: _count(name, counts.get(name, "")) for name in COUNTED}
    if not any(more.values()):
        raise Refusal("Nothing to count: type how many more are cut, up or spoiled, such as 6")
    _must_agree(batch, {name: getattr(batch, name) + count for name, count in more.items()})
    alike = batch.alike
    what = {"what": alike.what, "section": alike.section, "cuts": alike.cuts, "hand": alike.hand}
    counted = {name: count for name, count in more.items() if count}
    return Draft(act="tally", part=alike.part, value={**what, "length": round(batch.length, 3), **counted})


def _must_agree(batch: Batch, now: Mapping[str, int]) -> None:
    """Refusal for counts that can't all be true of the batch."""
    good = now["cut"] - now["spoiled"]
    below = next((name for name in COUNTED if now[name] < 0), None)
    if below:
        before = getattr(batch, below)
        raise Refusal(f"That makes {now[below]} {below}: {before} so far, so take off at most {before}")
    if good > batch.count:
        raise Refusal(f"That makes {good} good ones of {batch.count}: type only those cut since the last count")
    _must_be_tried(batch, good)
    if good < 0:
        raise Refusal(f"{now['spoiled']} spoiled but only {now['cut']} cut: count those as cut too")
    if now["up"] > good:
        raise Refusal(f"{now['up']} up but only {good} good ones cut: count those as cut first")


def _must_be_tried(batch: Batch, good: int) -> None:
    """Refusal of more good ones than may be cut before the first is tried: one where it is one of these, else none."""
    trial = batch.trial
    if trial and trial.held and good > max(int(trial.of_itself), batch.good):
        first = "Cut one and try it before the rest" if trial.of_itself else "Cut none before the pattern is tried"
        raise Refusal(f"{first}: answer {trial.path}. That makes {good}", code=PROBLEM)


def batch_named(found: Sequence[Batch], text: str) -> Batch:
    """The batch that words name: any of its part, its name, its length, its hand, its section, or a mark.

    Refusal where none has all of them, or several have.
    """
    words = clean(text).lower().split()
    named = [batch for batch in found if words and all(word in _words(batch) for word in words)]
    if len(named) == 1:
        return named[0]
    told = "; ".join(batch.key for batch in (named or found)[:5])
    if not named:
        raise Refusal(f"No timber called {clean(text, most=60)!r} on the cutting list. Type one of: {told}")
    raise Refusal(f"{clean(text, most=60)!r} could be {len(named)} of the list. Type one of: {told}")


def _words(batch: Batch) -> set[str]:
    marks = {word for piece in batch.pieces for word in piece.mark.lower().split()}
    return {*batch.key.split(), str(batch.section), *marks}


def _count(name: str, text: str) -> int:
    words = clean(text).replace("\N{MINUS SIGN}", "-")
    if not words:
        return 0
    digits = words.removeprefix("-").removeprefix("+")
    if not (digits.isascii() and digits.isdecimal() and int(digits[:9]) <= MOST):
        raise Refusal(f"{name.capitalize()} is {words!r}: type a whole number, such as 6, or -1 to take one off")
    return int(words)
