"""Whatever is handed in within the limits, an answer of finite figures comes back, or a refusal of one line."""

import json
import math
import random
from collections.abc import Callable

import pytest

from sitelog.calculators import sheet
from sitelog.calculators.ask import as_json
from sitelog.calculators.catalogue import LIMITS, Answer, Calculator, Input
from sitelog.calculators.index import calculators
from sitelog.quantities.quantity import Section, Tie, Value
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working

TURNS = 120  # for each calculator: enough to meet every limit of every input several times
# A figure that a job has, by kind, so that some turns get past the first refusal.
USUAL: dict[str, Callable[[random.Random], float]] = {
    "length": lambda r: r.choice((18, 47, 100, 150, 400, 600, 900, 2400, 3600, 6000, 9000)),
    "pitch": lambda r: r.choice((22.5, 35, 40, 45, 60)),
    "angle": lambda r: r.choice((90, 100, 135)),
    "fall": lambda r: 1 / r.choice((40, 60, 80)),
    "count": lambda r: r.randint(0, 8),
    "number": lambda r: r.uniform(0.01, 100),
    "share": lambda r: r.choice((1 / 4, 0.2, 47)),
    "fraction": lambda r: r.choice((1 / 3, 0.1, 0.5)),
    "offset": lambda r: r.uniform(-20, 20),
}


# What most turns of a calculator would be refused without: figures that must fit each other.
PLAIN = dict.fromkeys(("openings", "laid", "origin", "ties", "collars", "struts", "strut_foot", "strut_in"))
ORDINARY: dict[str, dict[str, Value]] = {
    "formers": {"radius": 900.0, "former": 170.0, "slot": 47.0, "count": 5, "split": None},
    "bulkhead": {"radius": 900.0, "heights": None, "split": None},
    "building": {**PLAIN, "building": "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"},
    "surface": {**PLAIN, "plan": "A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40"},
}


def limits(given: Input) -> tuple[float, float]:
    low, high = (1e-6, 90 - 1e-6) if given.kind == "pitch" else LIMITS[given.kind]
    low, high = given.low if given.low is not None else low, given.high if given.high is not None else high
    least = 1e-9 * max(abs(given.over or 0), 1)
    return (
        low if given.over is None else given.over + least,
        high if given.under is None else given.under - 1e-9,
    )


def number(r: random.Random, given: Input, wild: float) -> float:
    if r.random() > wild:
        return USUAL[given.kind](r)
    low, high = limits(given)
    found = r.choice((low, high, r.uniform(low, high), math.copysign(abs(high) ** r.random(), high)))
    found = min(max(found, low), high)
    return round(found) if given.kind == "count" else found


def value(r: random.Random, given: Input, wild: float) -> Value:
    match given.kind:
        case "choice":
            return r.choice(given.choices)
        case "section":
            return r.choice((Section(47, 150), Section(1e-6, 2000), Section(2000, 1e-6), Section(38, 225)))
        case "text":
            return r.choice(("A,B,C", "A,A", ",", "x" * 500))
        case "ties":
            pairs = [r.sample("ABCDMN", 2) for _ in range(r.randint(0, 6))]
            return tuple(Tie(a, b, r.choice((1e-3, 4500.0, 2e5))) for a, b in pairs)
        case "lengths" | "offsets":
            low, high = LIMITS[given.kind]
            return tuple(r.choice((low, high, 0.0, 3.0, 7.0)) for _ in range(r.randint(0, 9)))
        case "cuts" | "prices":
            pytest.skip("ordering is tried where it is tested")
    return number(r, given, wild)


def plates(r: random.Random) -> dict[str, Value]:
    """Four plates near a rectangle, as a tape might read them, or far from one."""
    out = r.choice((0, 5, 2000))
    ends = [(x + r.uniform(-out, out), y + r.uniform(-out, out)) for x, y in ((0, 0), (9e3, 0), (9e3, 6e3), (0, 6e3))]
    pairs = {"ab": (0, 1), "bc": (1, 2), "cd": (2, 3), "da": (3, 0), "ac": (0, 2), "bd": (1, 3)}
    return {name: math.dist(ends[one], ends[other]) for name, (one, other) in pairs.items()}


def plan(r: random.Random, wild: float) -> str:
    """A plan of four or six walls, with a wing at times, or one that is far from any roof."""
    far = 9e3 if r.random() > wild else r.choice((1e-3, 1.0, 2e5))
    walls = [r.choice(("40", "5", "75", "gable", "against", "35 +600", "40 in 500")) for _ in range(4)]
    main = ", ".join(f"{name} {wall}" for name, wall in zip(("AB", "BC", "CD", "DA"), walls, strict=True))
    wing = r.choice(("", "; wing AB 40, EF 40, FG gable, GE 40", "; wing AB 40, EF 40, FG 40"))
    corners = ((0, 0), (far, 0), (far, 6e3), (0, 6e3), (5e3, 6e3), (5e3, 8e3), (2e3, 8e3))
    points = [f"{name} {x},{y}" for name, (x, y) in zip("ABCDEFG", corners, strict=True)]
    return f"{'; '.join(points)}; main {main}{wing}"


def inputs(r: random.Random, one: Calculator) -> dict[str, Value]:
    wild = r.choice((0, 0.1, 0.4, 1))
    asked = [i for i in one.inputs if i.required or r.random() < 0.5]
    values = {given.name: value(r, given, wild) for given in asked}
    if one.name in ORDINARY and r.random() < 0.5:
        values = {name: given for name, given in values.items() if name not in ("chord", "rise", "spacing")}
        values |= ORDINARY[one.name]
    if "plan" in values and r.random() < 0.7:
        values |= {"plan": plan(r, wild), "ties": None}
        values = {name: given for name, given in values.items() if name not in ("origin", "laid", "openings")}
    if {i.name for i in one.inputs} >= {"ab", "bd"} and r.random() < 0.7:
        values |= plates(r)
        values = {name: given for name, given in values.items() if name not in ("length", "width")}
    return values


def is_sound(answer: Answer) -> None:
    json.dumps(as_json(answer), allow_nan=False)
    prove_working(answer, rel=1e-6)
    assert all(math.isfinite(step.value) for step in answer.working)
    assert all(line.isprintable() for line in sheet.text(answer, "imperial", working=True))


@pytest.mark.parametrize("one", calculators().values(), ids=lambda one: one.name)
def test_nothing_but_an_answer_or_a_refusal_comes_of_extreme_inputs(one: Calculator) -> None:
    r = random.Random(one.name)
    answered = 0
    for _ in range(TURNS):
        values = inputs(r, one)
        try:
            answer = one(**values)
        except Refusal as refused:
            assert "\n" not in refused.message and len(refused.message) < 300, values
            continue
        is_sound(answer)
        answered += 1
    assert answered, "every turn was refused: nothing was tried"
