"""Sticks of a laid valley, as `laid-valley` has them: a board on the main slope, and a jack with its foot on it."""

from sitelog.calculators.catalogue import Answer, Working
from sitelog.calculators.rafters.hip_cuts import side_of
from sitelog.calculators.rafters.valleys.laid import laid_valley
from sitelog.calculators.sticks.bench import Mark
from sitelog.calculators.sticks.inputs import SticksInputs, section_of
from sitelog.calculators.sticks.slopes import FACES
from sitelog.calculators.sticks.straight import Straight
from sitelog.calculators.timber.stick import RAFTER
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

NARROW = 1.0  # mm


def valley_board(working: Working, given: SticksInputs) -> Straight:
    """A board with the edge that lies on the valley's line on top; `down` is across it. Section: thickness x width.

    `pitch` is the main roof's and `pitch2` the wing's, `run` that of the wing's common. The seat cut is its foot's.
    """
    board = section_of(given.kind, given.section)
    answer = laid_valley(
        corner=given.corner,
        pitch=given.need("pitch"),
        pitch2=given.pitch2,
        run=given.need("run"),
        board=board,
        overhang=given.overhang,
    )
    width, outer = board.depth, _figure(answer, "outer_edge")
    head, foot = (_figure(answer, f"{end}_bevel_from_square") for end in ("head", "foot"))
    head_back = working.step("head_back", "width * tan(head)", width=width, head=head)
    foot_back = working.step("foot_back", "width * tan(foot)", width=width, foot=foot)
    marks = [
        Mark("face", "head-top", outer, 0.0),
        Mark("face", "head-bottom", outer - head_back, width),
        Mark("face", "tail-top", 0.0, 0.0),
        Mark("face", "tail-bottom", foot_back, width),
    ]
    angles = {"plumb_cut_from_square": head, "seat_cut_from_square": foot}
    return Straight(marks, angles, answer.cautions, answer.notes[:1])


def laid_jack(working: Working, given: SticksInputs) -> Straight:
    """From the board up to the ridge: plumb at its head, its foot cut to the board; long face towards the corner.

    Refusal where nothing of it is left on its short side.
    """
    side = side_of("sticks", "side", given.side)
    line, section, at = given.met(given.line), given.section or RAFTER, given.need("at")
    own, run = line.pitch(side), given.need("run")
    main = line.pitch_2 if side == 1 else line.pitch_1
    answer = laid_valley(
        corner=given.corner,
        pitch=main,
        pitch2=own,
        run=run,
        board=Section(given.board, NARROW),  # how wide it is changes nothing of the foot
        section=section,
    )
    off, cut = _figure(answer, "jack_off"), _figure(answer, "foot_cut_from_square")
    head = working.step("head_along", "(run - ridge / 2) / cos(pitch)", run=run, ridge=given.ridge, pitch=own)
    plumb = working.step("plumb_cut_along", "depth * tan(pitch)", depth=section.depth, pitch=own)
    heel = working.step("foot_along", "depth * tan(foot_cut)", depth=section.depth, foot_cut=cut)
    marks: list[Mark] = []
    for name, part in FACES.items():
        toe = working.step(
            f"{name}_toe_along",
            "at * tan(plan_angle) / cos(pitch) + jack_off",
            at=at - part * section.thickness,
            plan_angle=line.plan_angle(side),
            pitch=own,
            jack_off=off,
        )
        if toe + heel >= head - plumb:
            raise Refusal(
                f"sticks: at {as_typed(at)} from the corner nothing of it is left on its short side. Check at="
            )
        marks += [
            Mark(name, "head-top", head, 0.0),
            Mark(name, "head-bottom", head - plumb, section.depth),
            Mark(name, "tail-top", toe, 0.0),
            Mark(name, "tail-bottom", toe + heel, section.depth),
        ]
    marks.sort(key=lambda mark: ("head-top", "head-bottom", "tail-top", "tail-bottom").index(mark.point))
    angles = {
        "plumb_cut_from_square": own,
        "seat_cut_from_square": cut,
        "tail_bevel_1_from_square": _figure(answer, "foot_edge_from_square"),
        "tail_tilt_1": _figure(answer, "foot_saw_tilt"),
    }
    return Straight(marks, angles)


def _figure(answer: Answer, name: str) -> float:
    return float(str(answer.results[name]))
