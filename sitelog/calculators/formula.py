"""The formula of a step: worked from its text, and told in words and with its numbers put in."""

import ast
import math
from collections.abc import Callable, Mapping
from functools import lru_cache
from types import CodeType

from sitelog.geometry.vectors import acos_deg, asin_deg, atan2_deg, atan_deg, cos_deg, sin_deg, tan_deg
from sitelog.quantities.rounding import four_figures, places

# All that a formula may call; angles are in degrees.
_FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "hypot": math.hypot,
    "sin": sin_deg,
    "cos": cos_deg,
    "tan": tan_deg,
    "asin": asin_deg,
    "acos": acos_deg,
    "atan": atan_deg,
    "atan2": atan2_deg,
}
_OPERATORS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.USub)
_SCOPE: dict[str, object] = {"__builtins__": {}, **_FUNCTIONS}

_BETWEEN = {ast.Add: " + ", ast.Sub: " - ", ast.Mult: " x ", ast.Div: " / "}
_RANK = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.Pow: 4}
_UNARY, _WHOLE = 3, 5
_TOLD = {"asin": "inverse sin", "acos": "inverse cos", "atan": "inverse tan", "sqrt": "square root of"}
_RAISED = {"2": "²", "3": "³"}
_NAMED = ("pi",)  # what is known by its name better than by its figures

Tell = Callable[[str], str]


def value_of(formula: str, numbers: Mapping[str, float]) -> float:
    """What the formula comes to with its numbers put in; sin, cos, tan and their inverses are in degrees.

    ValueError for a formula that is more than plain arithmetic, or whose names are not just the keys of `numbers`.
    """
    code, names = _compiled(formula)
    if names != numbers.keys():
        raise ValueError(f"{formula} is of {sorted(names)}, not of {sorted(numbers)}")
    value: float = eval(code, _SCOPE, numbers)
    return value


@lru_cache(maxsize=1024)
def _compiled(formula: str) -> tuple[CodeType, frozenset[str]]:
    """The formula as code, and the names of its numbers; nothing but arithmetic and _FUNCTIONS gets through."""
    tree = ast.parse(formula, mode="eval")
    called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    names = set()
    for node in ast.walk(tree.body):
        match node:
            case ast.BinOp() | ast.UnaryOp() | ast.Load():
                continue
            case ast.Constant(value=value) if type(value) in (int, float):
                continue
            case ast.Call(func=ast.Name(id=name), keywords=[]) if name in _FUNCTIONS:
                continue
            case ast.Name(id=name):
                if id(node) not in called:
                    names.add(name)
            case _ if not isinstance(node, _OPERATORS):
                raise ValueError(f"a formula can't have {type(node).__name__}: {formula}")
    return compile(tree, "<formula>", "eval"), frozenset(names)


def in_words(formula: str, *, ascii: bool = False) -> str:
    """`run * tan(pitch)` as `run x tan pitch`."""
    return _told(_tree(formula), lambda name: name.replace("_", " "), ascii)[0]


def with_numbers(formula: str, numbers: Mapping[str, float], degrees: set[str], *, ascii: bool = False) -> str:
    """`run * tan(pitch)` as `3000 x tan 35.0°`; the names in `degrees` are shown as angles."""

    def tell(name: str) -> str:
        value = numbers[name]
        if name in _NAMED:
            return name
        if name == "fall" and value > 0:
            return f"(1/{figure(1 / value)})"
        shown = angle(value, ascii=ascii) if name in degrees else figure(value)
        if value < 0:
            return f"({shown})"
        return shown

    return _told(_tree(formula), tell, ascii)[0]


def angles(formula: str) -> set[str]:
    """The names that stand inside a sin, cos or tan, and so are degrees."""
    calls = [node for node in ast.walk(_tree(formula)) if isinstance(node, ast.Call)]
    turned = [call for call in calls if _name(call) in ("sin", "cos", "tan")]
    inside = (node for call in turned for arg in call.args for node in ast.walk(arg))
    return {node.id for node in inside if isinstance(node, ast.Name)}


def angle(deg: float, *, ascii: bool = False) -> str:
    """An angle as a working shows it: a place more than a result has, and under one degree to four figures."""
    shown = figure(deg) if 0 < abs(deg) < 1 else places(deg, 2).removesuffix("0")
    return f"{shown}{' deg' if ascii else '°'}"


def figure(value: float) -> str:
    """A number as a working shows it: to a tenth, and four figures where that would say too little."""
    return four_figures(value)


def _tree(formula: str) -> ast.expr:
    return ast.parse(formula, mode="eval").body


def _name(call: ast.Call) -> str:
    if not isinstance(call.func, ast.Name):
        return ""
    return call.func.id


def _told(node: ast.expr, tell: Tell, ascii: bool) -> tuple[str, int]:
    """The text of a part of the formula, and how tightly it holds together."""
    match node:
        case ast.Name():
            return tell(node.id), _WHOLE
        case ast.Constant():
            return figure(float(str(node.value))), _WHOLE
        case ast.UnaryOp():
            return f"-{_held(node.operand, _UNARY, tell, ascii)}", _UNARY
        case ast.BinOp(op=ast.Pow()):
            return _power(node, tell, ascii), _RANK[ast.Pow]
        case ast.BinOp():
            return _pair(node, tell, ascii), _RANK[type(node.op)]
        case ast.Call():
            return _call(node, tell, ascii), _UNARY
    raise ValueError(f"a formula can't have {type(node).__name__}")


def _held(node: ast.expr, rank: int, tell: Tell, ascii: bool) -> str:
    """The text, in brackets if it would come apart beside what stands next to it."""
    text, own = _told(node, tell, ascii)
    if own >= rank:
        return text
    return f"({text})"


def _pair(node: ast.BinOp, tell: Tell, ascii: bool) -> str:
    rank = _RANK[type(node.op)]
    after = rank + 1 if isinstance(node.op, (ast.Sub, ast.Div)) else rank
    left, right = _held(node.left, rank, tell, ascii), _held(node.right, after, tell, ascii)
    return f"{left}{_BETWEEN[type(node.op)]}{right}"


def _power(node: ast.BinOp, tell: Tell, ascii: bool) -> str:
    power = _held(node.right, _WHOLE, tell, ascii)
    raised = f"^{power}" if ascii else _RAISED.get(power, f"^{power}")
    return f"{_held(node.left, _WHOLE, tell, ascii)}{raised}"


def _call(node: ast.Call, tell: Tell, ascii: bool) -> str:
    name, args = _name(node), [_told(arg, tell, ascii) for arg in node.args]
    if name == "hypot":
        squares = " + ".join(f"{_bracketed(*arg)}{'^2' if ascii else '²'}" for arg in args)
        return f"square root of ({squares})"
    if name == "atan2":
        return f"inverse tan ({_bracketed(*args[0])} / {_bracketed(*args[1])})"
    return f"{_TOLD.get(name, name)} {', '.join(_bracketed(*arg) for arg in args)}"


def _bracketed(text: str, rank: int) -> str:
    if rank >= _WHOLE:
        return text
    return f"({text})"
