"""A job's state as plain data, for the command line and for other programs: data/shapes.py has its shapes."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, TypeVar

from msgspec import Struct, to_builtins
from msgspec.structs import replace

from sitelog.checklist.schema.model import Check, Library
from sitelog.job.actions.examples import examples_of
from sitelog.job.cautions.answers import example as answer_example
from sitelog.job.cautions.due import last_read, latest, matter, stopping
from sitelog.job.data.shapes import (
    AnswerData,
    CautionData,
    CheckData,
    ChoiceData,
    CorrectionData,
    DeferralData,
    EarlierData,
    FactData,
    FigureData,
    GaugeData,
    InstructionData,
    InstrumentData,
    JobData,
    LimitData,
    PartData,
    PhotoData,
    Plain,
    ReleaseData,
    SnagData,
    StageData,
)
from sitelog.job.facts.evidence import shown
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.sums import result
from sitelog.job.log.entry import Entry, said
from sitelog.job.log.values import to_plain
from sitelog.job.photos.keeping import Shown
from sitelog.job.state.corrections import Correction, corrections
from sitelog.job.state.record_views import Earlier
from sitelog.job.state.views import CheckView, FigureView, PartView, StageView, State
from sitelog.quantities.quantity import Section

Data = TypeVar("Data", bound=Struct)


def to_json(state: State, album: Sequence[Shown] = ()) -> dict[str, Any]:
    """The same in plain JSON types."""
    plain_types: dict[str, Any] = to_builtins(job_data(state, album))
    return plain_types


def job_data(
    state: State,
    album: Sequence[Shown] = (),
    replies: Sequence[str] = (),
    library: Library | None = None,
    copies: Sequence[str] = (),
) -> JobData:
    """The whole job as it stands, with its photos on the disk, and a line for each reply and copy beside it.

    Without `library` the example of a figure that rests on another of its check is one of its kind.
    """
    return JobData(
        title=state.title,
        parts=[_part(part, state, library) for part in state.parts],
        facts={name: _fact(fact) for name, fact in state.facts.items()},
        instructions=[_taken(InstructionData, sheet) for sheet in state.instructions],
        snags=[_taken(SnagData, snag) for snag in state.snags],
        releases=[_taken(ReleaseData, release) for release in state.releases],
        deferrals=[_taken(DeferralData, deferral) for deferral in state.deferrals],
        instruments=[_taken(InstrumentData, tool) for tool in state.instruments.values()],
        earlier=list(map(_earlier, state.earlier)),
        photos=list(map(_photo, album)),
        cautions=list(caution_data(state)),
        stale=list(state.stale),
        pointed_hips=list(state.pointed),
        roof_changes=list(state.roof_changes),
        entries=state.entries,
        head=state.head,
        next=state.next,
        replies=list(replies),
        copies=list(copies),
    )


def _taken(shape: type[Data], record: Struct) -> Data:
    """The fields of a record that its shape has."""
    return shape(**{name: getattr(record, name) for name in shape.__struct_fields__})


def _fact(fact: Fact) -> FactData:
    return FactData(plain(fact.drawn), plain(fact.built), fact.unit, fact.says, fact.asked or fact.drawable)


def _part(part: PartView, state: State, library: Library | None) -> PartData:
    return PartData(part.id, part.form, [_stage(stage, state, library) for stage in part.stages if stage.applies])


def _stage(stage: StageView, state: State, library: Library | None) -> StageData:
    return StageData(
        id=stage.stage.id,
        path=stage.path,
        title=stage.stage.title,
        state=stage.state,
        hold=stage.stage.hold,
        blocked=stage.blocked,
        checks=[check_data(view, state, library) for view in stage.shown],
    )


def _earlier(earlier: Earlier) -> EarlierData:
    return EarlierData(
        path=earlier.path,
        ask=earlier.ask,
        answer=earlier.answer,
        by=earlier.by,
        at=earlier.at,
        note=earlier.note,
        value=said(earlier.value),
    )


def caution_data(state: State) -> Iterator[CautionData]:
    """Every caution that applies, at each stage where it does, and who answered it last."""
    last = latest(state.readings)
    for stage in state.order:
        for caution in stage.cautions:
            asked = matter(caution, stage.path)
            read = last_read(asked, last)
            yield CautionData(
                id=caution.id,
                stage=stage.path,
                title=caution.title,
                hurts=caution.hurts,
                do=caution.do,
                ask=caution.question.ask,
                kind=caution.question.kind,
                choices=list(caution.question.choices),
                stop_on=list(caution.question.stop_on),
                numbers=[_taken(GaugeData, gauge) for gauge in caution.question.gauges],
                stops=caution.stops,
                stopped=stopping(asked, last) is not None,
                answered_by=read.by if read else "",
                type=answer_example(caution.question).strip('"'),
            )


def _photo(shown: Shown) -> PhotoData:
    taken, photo = shown.taken, shown.taken.photo
    told = PhotoData(taken.path, taken.name, shown.stand, taken.by, taken.at)
    if photo is None:
        return told
    return replace(told, file=photo.file, size=photo.size, whole=photo.whole)


def check_data(view: CheckView, state: State, library: Library | None = None) -> CheckData:
    """One check as it stands."""
    examples = examples_of(state, library, view)
    return CheckData(
        id=view.check.id,
        path=view.path,
        ask=view.check.ask,
        kind=view.check.kind,
        state=view.state,
        value=_value(view),
        verdict=view.verdict,
        drawn=_drawn(view),
        tolerance=view.limit.amount if view.limit else None,
        limits={figure.key: _taken(LimitData, figure.limit) for figure in view.figures if figure.limit},
        figures=[_figure(view.check, figure, examples) for figure in view.figures],
        choices=[ChoiceData(choice.id, choice.label) for choice in view.check.choices],
        inputs={given.name: plain(given.value) for given in view.inputs},
        photo=view.check.photo,
        type=_type(view, examples),
        blocked=view.blocked,
        refusal=view.refusal,
        by=view.by,
        at=view.at,
        instrument=view.instrument,
        late=view.late,
        at_once=view.at_once,
        doubted=view.doubted,
        rivals=[_said(entry) for entry in view.rivals],
        corrections=[_corrected(correction) for correction in corrections(view)],
    )


def _figure(check: Check, figure: FigureView, examples: Mapping[str, str]) -> FigureData:
    asked = check.figure(figure.key)
    return FigureData(
        key=figure.key,
        says=figure.says,
        kind=figure.kind,
        unit=figure.unit,
        optional=bool(asked and asked.optional),
        example=examples.get(figure.key, ""),
        drawn=plain(figure.drawn),
        value=plain(figure.value),
        difference=figure.difference,
        uncertainty=figure.uncertainty,
        verdict=figure.verdict,
    )


def _type(view: CheckView, examples: Mapping[str, str]) -> list[str]:
    """What `sitelog record` takes after the check's path, as an example."""
    wanted = [figure for figure in view.check.figures if not figure.optional]
    if view.check.kind == "measure":
        return [f"{figure.key}={examples[figure.key]}" for figure in wanted]
    if view.check.kind == "choice":
        return [choice.id for choice in view.check.choices][:1]
    if view.check.kind in ("note", "sign"):
        return ["WORDS"]
    if view.check.kind == "photo" or view.check.photo:
        return ["photo=FILE"]
    return []


def _said(entry: Entry) -> AnswerData:
    """Another answer than the one in force, as it was entered."""
    return AnswerData(value=said(entry.value), by=entry.by, at=entry.at, device=entry.device)


def _corrected(correction: Correction) -> CorrectionData:
    was = correction.was
    return CorrectionData(value=said(was.value), by=was.by, at=was.at, device=was.device, reason=correction.reason)


def _figures(view: CheckView) -> dict[str, Any]:
    """The figures that were read, by their keys."""
    return {figure.key: plain(figure.value) for figure in view.figures if figure.value is not None}


def _value(view: CheckView) -> Plain:
    if len(view.figures) == 1:
        return plain(view.figures[0].value)
    if view.figures:
        return _figures(view) or None
    accepted = view.check.kind == "calculate" and view.value is not None
    if accepted and view.answer and len(view.check.shows) > 1:
        return {path: plain(result(view.answer, path)) for path in shown(view.check, view.answer)}
    return plain(view.value)


def _drawn(view: CheckView) -> Plain:
    if len(view.figures) > 1:
        drawn = {figure.key: plain(figure.drawn) for figure in view.figures if figure.drawn is not None}
        return drawn or None
    if not view.figures:
        return None
    return plain(view.figures[0].drawn)


def plain(value: Any) -> Plain:
    """A value as JSON has it; a section by its size alone."""
    if isinstance(value, Section):
        return str(value)
    return to_plain(value)
