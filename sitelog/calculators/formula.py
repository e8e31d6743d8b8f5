"""How the formula of a step is told: in words, and with its numbers put in, from the text that is worked."""

import ast
from collections.abc import Callable, Mapping

from sitelog.quantities.rounding import four_figures, places

_BETWEEN = {ast.Add: " + ", ast.Sub: " - ", ast.Mult: " x ", ast.Div: " / "}
_RANK = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.Pow: 4}
_UNARY, _WHOLE = 3, 5
_TOLD = {"asin": "inverse sin", "acos": "inverse cos", "atan": "inverse tan", "sqrt": "square root of"}
_RAISED = {"2": "²", "3": "³"}
_NAMED = ("pi",)  # what is known by its name better than by its figures

Tell = Callable[[str], str]


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
        return f"({shown})" if value < 0 else shown

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
    return call.func.id if isinstance(call.func, ast.Name) else ""


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
    return text if own >= rank else f"({text})"


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
    return text if rank >= _WHOLE else f"({text})"
