"""`sitelog order` worked anew: the cutting list of a job as built, and what to buy for it."""

import argparse
import sys
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from textwrap import wrap
from typing import Any

from msgspec import Struct

from sitelog.calculators import sheet
from sitelog.calculators.timber.cutting.supply import plain
from sitelog.calculators.timber.members import ANGLES, End, write_members
from sitelog.cli.keep.job_file import author, opened
from sitelog.cli.script.tell import print_json, tell, tell_made
from sitelog.cli.watching import watching
from sitelog.job.actions import counting
from sitelog.job.actions.counting import batch_named
from sitelog.job.batches import Batch
from sitelog.job.buying import Purchase, buy, ordered, totals, write_plan
from sitelog.job.job import Job
from sitelog.job.members import Line
from sitelog.job.show import plain as as_plain
from sitelog.job.sources import ASKED, Terms, terms_of
from sitelog.job.state.record_views import COUNTED
from sitelog.job.state.views import State
from sitelog.job.yard import pattern, yard_for
from sitelog.refusal import DONE, PROBLEM, Refusal
from sitelog.reports.timber.entries import all_lines, counted, progress, to_order
from sitelog.reports.timber.order import not_bought
from sitelog.reports.timber.plain import WIDTH, introduced
from sitelog.reports.timber.plain import plain as listed
from sitelog.reports.timber.sheets import BATCH_COLUMNS, batch_row, saw_sheets, write_batches

Options = argparse.Namespace
NO_PURCHASE: dict[str, Any] = {"stock": None, "special": [], "unsold": [], "nested": [], "yard": "", "notes": []}
NO_LIST = "order: no cutting list: the checklists for these parts don't list any timbers"


def order(options: Options) -> int:
    """Print it; exit 1 where the order is not whole, which is then said.

    Refusal: no such part, a part without a list, or (with --buy) an order that can't be worked, or a faulty yard file.
    """
    if options.out:
        return _sheets(options)
    if sum((options.csv, options.json, options.batches)) > 1:
        raise Refusal("order: give one of --csv, --batches and --json")
    if options.new_yard:
        return _new_yard(options)
    with opened(options, read_only=True) as job:
        state, lines = job.state, all_lines(job.state, job.library, options.part)
        terms = _terms(options, job)
    if not lines:
        raise Refusal(NO_LIST)
    purchase, refusal, _ = _bought(options, to_order(lines, state), terms)
    if options.json:
        _print_json(lines, counted(lines, state), purchase, refusal)
    elif options.batches:
        sys.stdout.write(write_batches(counted(lines, state)))
    elif options.csv:
        _print_csv(options, lines, purchase)
    else:
        print("\n".join(_told(options, state, lines, purchase, refusal)))
    return _code(lines, purchase, refusal)


def in_words(options: Options, job: Job) -> tuple[str, int, bool]:
    """The text and the exit code, and whether it was worked out in full. Refusal as of `order`."""
    state, lines = job.state, all_lines(job.state, job.library, options.part)
    if not lines:
        raise Refusal(NO_LIST)
    purchase, refusal, whole = _bought(options, to_order(lines, state), _terms(options, job))
    return "\n".join(_told(options, state, lines, purchase, refusal)), _code(lines, purchase, refusal), whole


def _sheets(options: Options) -> int:
    """The cutting list for the saw and the order, as JOB-cutting in each format; exit 1 where some is left off."""
    from sitelog.reports.pack import make, write_sheet

    file = Path(options.file)
    with opened(options, read_only=True) as job:
        lines = all_lines(job.state, job.library, options.part)
        if not lines:
            raise Refusal(NO_LIST)
        pack = make(job.state, job.library, "", datetime.now().astimezone(), job.file.files)
        with watching():
            leaves = tuple(saw_sheets(lines, job.state, _terms(options, job)))
    tell_made(options, write_sheet(pack, "cutting", leaves, Path(options.out), file.stem))
    return DONE if all(line.good for line in lines) else PROBLEM


def _new_yard(options: Options) -> int:
    """Print a yard file to fill in, with the sections of the list. Refusal where there is no list."""
    with opened(options, read_only=True) as job:
        lines = all_lines(job.state, job.library, options.part)
    sections = [plain(line.member.section) for line in lines if line.member]
    if not sections:
        raise Refusal(NO_LIST)
    with suppress(Refusal):  # two firrings in one stick may take another section than each by itself
        sections += [section for section, _ in buy(lines).pairs]
    sys.stdout.write(pattern(dict.fromkeys(sections)))
    return 0


def tally(options: Options) -> int:
    """Count more pieces of a timber of the cutting list, and say how far that is. Refusal where none has that name."""
    counts = {name: str(getattr(options, name)) for name in COUNTED}
    with opened(options) as job:
        batch = batch_named(counted(all_lines(job.state, job.library), job.state), options.timber)
        state = job.do(counting.tally(batch, counts), author(options))
        now = next(one for one in counted(all_lines(state, job.library), state) if one.key == batch.key)

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Counted

        return Counted(said=said, timber=now.key, count=now.count, cut=now.cut, up=now.up, spoiled=now.spoiled)

    tell(options, [f"{now.key}: {progress(now)} of {now.count}"], data)
    return DONE


def _terms(options: Options, job: Job) -> Terms:
    """What the order is worked with, as it is typed, and the yard file: the one named, else the job's."""
    texts = {name: str(getattr(options, name)) for name in ASKED}
    return terms_of(texts, Path(options.yard) if options.yard else yard_for(job.file.files))


def _bought(options: Options, lines: Sequence[Line], terms: Terms) -> tuple[Purchase | None, str, bool]:
    """The plan, or why there is none, and whether nobody stopped it; none is wanted for a list of members alone."""
    if options.csv and not options.buy:
        return None, "", True
    try:
        with watching() as watch:
            found = buy(lines, terms)
        return found, "", not watch.stopped
    except Refusal as refusal:
        if options.buy:
            raise
        return None, refusal.message, True


def _code(lines: Sequence[Line], purchase: Purchase | None, refusal: str) -> int:
    """1 where some of it can't be ordered or bought."""
    left = bool(purchase and (purchase.special or purchase.unsold))
    return PROBLEM if left or refusal or not all(line.good for line in lines) else DONE


def _told(options: Options, state: State, lines: Sequence[Line], purchase: Purchase | None, refusal: str) -> list[str]:
    said = [] if options.buy else [*introduced(), *listed(lines, state), ""]
    if purchase is None:
        return [*said, f"can't work out what to buy: {refusal}"]
    return [
        *said,
        *(row for line in not_bought(purchase) for row in wrap(line, WIDTH)),
        *sheet.text(purchase.answer, state.units),
    ]


def _print_csv(options: Options, lines: Sequence[Line], purchase: Purchase | None) -> None:
    if options.buy and purchase:
        sys.stdout.write(write_plan(purchase))
    else:
        sys.stdout.write(write_members(ordered(lines, by_part=len({line.part for line in lines}) > 1)))
    left = dict.fromkeys(line.says for line in lines if not line.good)
    left |= dict.fromkeys(line.says for line in ((*purchase.special, *purchase.unsold) if purchase else ()))
    if left:
        print(f"sitelog: left off this file: {', '.join(left)}", file=sys.stderr)


def _print_json(lines: Sequence[Line], found: Sequence[Batch], purchase: Purchase | None, refusal: str) -> None:
    from sitelog.cli.script.shapes import Order

    whole = Order(
        members=[_line(line) for line in lines],
        batches=[_batch(batch) for batch in found],
        totals=[
            {"section": str(total.section), "count": total.count, "length": total.length, "mass": total.mass}
            for total in totals(lines)
        ],
        refusal=refusal,
        **(_purchase(purchase) if purchase else NO_PURCHASE),
    )
    print_json(whole)


def _purchase(purchase: Purchase) -> dict[str, Any]:
    """What is bought, and what is not, in plain types."""
    from sitelog.calculators.ask import as_json

    return {
        "stock": as_json(purchase.answer),
        "special": [line.says for line in purchase.special],
        "unsold": [line.says for line in purchase.unsold],
        "nested": [{"section": str(section), "count": count} for section, count in purchase.pairs],
        "yard": purchase.yard,
        "notes": list(purchase.answer.notes),
    }


def _batch(batch: Batch) -> dict[str, Any]:
    """A batch in plain types, as its row in the CSV file and with its ends."""
    return dict(zip(BATCH_COLUMNS, batch_row(batch), strict=True)) | {
        "head": _end(batch.head),
        "foot": _end(batch.foot),
    }


def _line(line: Line) -> dict[str, Any]:
    """A line in plain types; what is stale has no figures."""
    told: dict[str, Any] = {
        "part": line.part, "id": line.id, "says": line.says, "standing": line.standing, "waits": list(line.waits),
        "refusal": line.refusal, "trial": line.trial.word if line.trial else "",
    }  # fmt: skip
    if line.good and (member := line.member):
        told |= {
            "member": member.part, "section": str(member.section), "length": member.length, "count": member.count,
            "mass": member.mass, "head": _end(member.head), "foot": _end(member.foot),
            "shows": {shown.says: as_plain(shown.value) for shown in line.shows},
        }  # fmt: skip
    return told


def _end(end: End) -> dict[str, float | str]:
    return {**{name: getattr(end, name) for name in ANGLES if getattr(end, name)}, "hand": end.hand}
