"""Works the formula of a step a second way, apart from the program's own: from the tree, with math in radians."""

import ast
import math
import operator
from collections.abc import Callable, Mapping

import pytest

from sitelog.calculators.catalogue import Answer

_BETWEEN: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sin": lambda x: math.sin(math.radians(x)),
    "cos": lambda x: math.cos(math.radians(x)),
    "tan": lambda x: math.tan(math.radians(x)),
    "asin": lambda x: math.degrees(math.asin(x)),
    "acos": lambda x: math.degrees(math.acos(x)),
    "atan": lambda x: math.degrees(math.atan(x)),
    "atan2": lambda y, x: math.degrees(math.atan2(y, x)),
    "sqrt": math.sqrt,
    "hypot": math.hypot,
}


def value_of(formula: str, numbers: Mapping[str, float]) -> float:
    """The formula's value, angles in degrees. AssertionError for all but plain arithmetic on `numbers`."""
    return _value(ast.parse(formula, mode="eval").body, numbers)


def prove_working(answer: Answer, rel: float = 1e-9) -> None:
    """Each formula of the working, with its numbers put in, comes to the value that the program worked from it."""
    for step in answer.working:
        assert step.formula or step.note, step.name
        if step.formula:
            found = value_of(step.formula, step.numbers)
            assert found == pytest.approx(step.value, rel=rel, abs=rel), (step.name, answer.inputs)


def _value(node: ast.expr, numbers: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name):
            assert name in numbers, f"{name} is not among the numbers {sorted(numbers)}"
            return float(numbers[name])
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, numbers)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BETWEEN:
            return _BETWEEN[type(op)](_value(left, numbers), _value(right, numbers))
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]) if name in _FUNCTIONS:
            return _FUNCTIONS[name](*(_value(arg, numbers) for arg in args))
    raise AssertionError(f"a step's formula can't hold {ast.unparse(node)}")
