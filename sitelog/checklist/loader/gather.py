"""Files put together into one book: a later folder adds to an earlier one and replaces by id."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Protocol, TypeVar

from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.loader import build, guidance
from sitelog.checklist.loader.borrow import with_borrowed
from sitelog.checklist.schema.document import Document, Fault, Spot, open_document
from sitelog.checklist.schema.guidance import Caution, Finish
from sitelog.checklist.schema.model import Checklist, ListFile, Source
from sitelog.checklist.schema.table import Table


class Named(Protocol):
    """A list, a caution or a finish: what a later folder replaces by id."""

    @property
    def id(self) -> str:
        """Its id; "" where the file gives none, which is a fault."""


T = TypeVar("T", bound=Named)
Layer = Sequence[Document]  # the files of one folder, within which an id stands once


def gather(folders: Sequence[Sequence[Path]]) -> tuple[LintContext, list[Fault]]:
    """The book that the files of all folders make, and what is wrong in the shape of any of them.

    Where a file can't be read at all that alone is told: what leans on it would all be told as missing.
    """
    opened = [[open_document(path) for path in files] for files in folders]
    faults = [read for layer in opened for read in layer if isinstance(read, Fault)]
    if faults:
        return LintContext((), {}, {}, {}), faults
    return together([[read for read in layer if isinstance(read, Document)] for layer in opened])


def together(opened: Sequence[Layer]) -> tuple[LintContext, list[Fault]]:
    """The same of files that have been read."""
    faults: list[Fault] = []
    layers = _whole(opened, faults)
    sources = _sources(layers, faults)
    cautions = _merged([_cautions(layer, faults) for layer in layers], faults)
    finishes = _merged([_finishes(layer, faults) for layer in layers], faults)
    chosen = {name: finish for name, (_, finish) in finishes.items()}
    lists = _merged([_lists(layer, chosen, sources, faults) for layer in layers], faults)
    digests = {name: listed.digest for name, (_, listed) in lists.items()}
    digests |= {sort: _digest(layers, sort) for sort in ("cautions", "finishes")}
    files = tuple(_file(document, firm=number > 0) for number, layer in enumerate(opened) for document in layer)
    return LintContext(_one_a_form(lists.values(), faults), cautions, finishes, sources, digests, files), faults


def _file(document: Document, *, firm: bool) -> ListFile:
    sort = sort_of(document)
    name = str(document.data.get("id", "")) if sort == "list" else sort
    digest = hashlib.sha256(document.raw).hexdigest()
    return ListFile(document.path.name, digest, document.raw.decode(), name, firm)


def _whole(layers: Sequence[Layer], faults: list[Fault]) -> list[list[Document]]:
    """Every list with what it takes over from others, of whichever folder."""
    lists = [document for layer in layers for document in layer if sort_of(document) == "list"]
    whole = {id(document): made for document, made in zip(lists, with_borrowed(lists, faults), strict=True)}
    return [[whole.get(id(document), document) for document in layer] for layer in layers]


def sort_of(document: Document) -> str:
    """What a file holds, by its name or else by its tables: "cautions", "finishes" or "list"."""
    if document.path.stem in ("cautions", "finishes"):
        return document.path.stem
    for sort, table in (("cautions", "caution"), ("finishes", "finish")):
        if table in document.data and "stage" not in document.data:
            return sort
    return "list"


def _of(layer: Layer, sort: str, faults: list[Fault]) -> Iterable[Table]:
    return (Table(Spot(document), document.data, faults) for document in layer if sort_of(document) == sort)


def _cautions(layer: Layer, faults: list[Fault]) -> list[tuple[Spot, Caution]]:
    return [
        (table.spot.at("caution", place), caution)
        for table in _of(layer, "cautions", faults)
        for place, caution in enumerate(guidance.cautions(table))
    ]


def _finishes(layer: Layer, faults: list[Fault]) -> list[tuple[Spot, Finish]]:
    return [
        (table.spot.at("finish", place), finish)
        for table in _of(layer, "finishes", faults)
        for place, finish in enumerate(guidance.finishes(table))
    ]


def _lists(
    layer: Layer, finishes: Mapping[str, Finish], sources: Mapping[str, Source], faults: list[Fault]
) -> list[tuple[Spot, Checklist]]:
    return [(table.spot, build.checklist(table, finishes, sources)) for table in _of(layer, "list", faults)]


def _merged(layers: Iterable[Sequence[tuple[Spot, T]]], faults: list[Fault]) -> dict[str, tuple[Spot, T]]:
    merged: dict[str, tuple[Spot, T]] = {}
    for layer in layers:
        here: dict[str, tuple[Spot, T]] = {}
        for spot, item in layer:
            if item.id and item.id in here:
                faults.append(
                    spot.at("id").fault(f"{item.id} is already used, {_where(here[item.id][0])}; give it another id")
                )
            here.setdefault(item.id, (spot, item))
        merged |= here
    return merged


def _where(spot: Spot) -> str:
    return f"in {spot.document.path.name}, line {spot.line}"


def _sources(layers: Sequence[Layer], faults: list[Fault]) -> dict[str, Source]:
    """All sources by id. Several files of a folder may name the same source, if they tell it alike."""
    every: dict[str, Source] = {}
    for layer in layers:
        first: dict[str, tuple[Spot, Source]] = {}
        for document in layer:
            table = Table(Spot(document), document.data, faults)
            for place, source in enumerate(build.sources(table)):
                spot = table.spot.at("source", place)
                other, told = first.setdefault(source.id, (spot, source))
                if source.id and other != spot and (told != source or other.document is document):
                    faults.append(
                        spot.fault(
                            f"source {source.id} is also given {_where(other)}; give it once, or the same in both"
                        )
                    )
        every |= {name: source for name, (_, source) in first.items()}
    return every


def _one_a_form(lists: Iterable[tuple[Spot, Checklist]], faults: list[Fault]) -> tuple[Listed, ...]:
    """The job's list first. A form has one list, so that a part of that form has one order of work."""
    first: dict[str, Listed] = {}
    for spot, checklist in lists:
        listed = first.setdefault(checklist.form, Listed(spot.document, checklist))
        if checklist.form and listed.checklist is not checklist:
            right = f"replace it by giving its id, {listed.checklist.id}"
            faults.append(spot.at("form").fault(f"the form {checklist.form} already has a list; {right}"))
    return tuple(sorted(first.values(), key=lambda listed: listed.checklist.form != "job"))


def _digest(layers: Sequence[Layer], sort: str) -> str:
    """The SHA-256 of the one file of that sort; of all their digests, one a line, where there are several."""
    digests = [document.digest for layer in layers for document in layer if sort_of(document) == sort]
    if len(digests) == 1:
        return digests[0]
    return hashlib.sha256("\n".join(digests).encode()).hexdigest()
