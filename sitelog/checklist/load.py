"""The checklists, loaded and proved together: a library without fault, or every fault at once."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from sitelog.checklist.lint import circles, each, facts, member_rules, names, proofs, rules, shapes, sums, words
from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.loader.gather import gather
from sitelog.checklist.schema.document import Fault, shown
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import shipped_folder, toml_files
from sitelog.refusal import Refusal
from sitelog.text import text_if

RULES = (
    *rules.RULES,
    *shapes.RULES,
    *facts.RULES,
    *names.RULES,
    *sums.RULES,
    *member_rules.RULES,
    *circles.RULES,
    *each.RULES,
)
LINT = (*RULES, *words.RULES, *proofs.RULES)


class Faults(Refusal):
    """The checklists have faults; each is one line, "file:line: what is wrong; what would be right"."""

    def __init__(self, faults: Sequence[str]) -> None:
        more = text_if(len(faults) > 1, f" (and {len(faults) - 1} more)")
        super().__init__(f"{faults[0]}{more}")
        self.faults = tuple(faults)


def load(folders: Sequence[Path] = (), *, shipped: Path | None = None) -> Library:
    """The shipped checklists, then those of each folder, which add to them or replace them by id.

    `shipped` stands in for the shipped folder. Raises Faults with all that is wrong, by file and line.
    """
    layers = [toml_files(folder) for folder in (shipped or shipped_folder(), *folders)]
    context, faults = _proved(layers)
    faults += [_empty(folder) for folder, files in zip(folders, layers[1:], strict=True) if not files]
    if faults:
        raise Faults([str(fault) for fault in sorted(faults)])
    return library(context)


def library(context: LintContext) -> Library:
    """What is in force, without the places where it stands."""
    return Library(
        lists={listed.checklist.form: listed.checklist for listed in context.lists},
        cautions={name: caution for name, (_, caution) in context.cautions.items()},
        finishes={name: finish for name, (_, finish) in context.finishes.items()},
        sources=context.sources,
        digests=context.digests,
        files=context.files,
    )


def lint(paths: Sequence[Path], *, shipped: Path | None = None) -> list[str]:
    """All that is wrong in these TOML files and folders, or goes wrong in the shipped ones because of them.

    They are proved together with the shipped checklists, so that a single list may lean on the others; and their words
    are counted and their limits held to what reads them, which `load` does not do.
    """
    given = [toml_files(path) for path in paths]
    asked = {path.absolute(): path for files in given for path in files}
    told = {shown(path) for path in asked.values()}
    base = [asked.pop(path.absolute(), path) for path in toml_files(shipped or shipped_folder())]
    _, faults = _proved([base, *_by_folder(asked.values())], LINT)
    found = _caused(faults, told, base)
    found += [_empty(path) for path, files in zip(paths, given, strict=True) if not files]
    return list(map(str, sorted(found)))


def _caused(faults: Sequence[Fault], told: set[str], base: Sequence[Path]) -> list[Fault]:
    """The faults in the files that were asked about, and those elsewhere that the shipped lists alone don't have."""
    found = [fault for fault in faults if fault.file in told]
    elsewhere = [fault for fault in faults if fault.file not in told]
    if elsewhere:
        before = _alone(base)
        found += [fault for fault in elsewhere if fault not in before]
    return found


def _alone(base: Sequence[Path]) -> list[Fault]:
    """What is wrong in the shipped lists by themselves."""
    return _proved([base], LINT)[1]


def _by_folder(paths: Iterable[Path]) -> list[list[Path]]:
    folders: dict[Path, list[Path]] = {}
    for path in paths:
        folders.setdefault(path.parent, []).append(path)
    return list(folders.values())


def _proved(layers: Sequence[Sequence[Path]], held: Sequence[rules.Rule] = RULES) -> tuple[LintContext, list[Fault]]:
    context, faults = gather(layers)
    proved = {fault for rule in held for fault in rule(context)}
    if context.job is None and not (faults and not context.lists):
        where = layers[0][0].parent if layers[0] else Path("checklists")
        proved.add(Fault(shown(where), 1, 'no list has form = "job"; it holds the stages before and after all parts'))
    return context, sorted({*faults, *proved})


def _empty(folder: Path) -> Fault:
    return Fault(shown(folder), 1, "no TOML file is here; give a folder with checklists in it")
