"""The lists that a job goes by, in words: what newer ones would change, and the earlier checks."""

from dataclasses import dataclass

from sitelog.job.job import Job
from sitelog.job.news import Row, news
from sitelog.wording.formatting import when

NEWEST = "This job uses the newest checklists"
BROUGHT = "The job uses the newest checklists from here on"
OLDER = "There are newer checklists than this job uses"


@dataclass(frozen=True)
class Item:
    """One row, and what is told of it: (first word, words)."""

    key: str
    words: str
    told: tuple[tuple[str, str], ...] = ()


def groups(job: Job) -> list[tuple[str, list[Item]]]:
    """What newer lists would change and then the earlier checks, under a title each; what is empty is left out."""
    parts = {part.id: part.title for part in job.state.parts}

    def item(word: str, row: Row) -> Item:
        at = parts.get(row.path.partition(".")[0], "")
        return Item(f"{word} {row.path}", row.ask, (("At", at), *(("", what) for what in row.what)))

    found = news(job.state, job.library, job.newest)
    beside = [Item(f"{word} {kind} {name}", f"{word} {kind}: {name}") for word, kind, name in found.beside]
    earlier = [
        Item(f"earlier {number}", answer.ask, (("Answer", answer.answer), ("By", f"{answer.by}, {when(answer.at)}")))
        for number, answer in enumerate(job.state.earlier)
    ]
    rows = [
        ("New checks", [item("new", row) for row in found.new]),
        ("Checks that have changed", [item("changed", row) for row in found.changed]),
        (
            "Checks removed; their answers are kept under Earlier checks",
            [item("removed", removed) for removed in found.gone],
        ),
        ("Other changes", beside),
        ("Earlier checks, no longer asked", earlier),
    ]
    return [(title, items) for title, items in rows if items]
