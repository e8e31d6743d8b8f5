"""The texts in the code that people see, found by what they are: a list of them would be out of date tomorrow.

A text with a space in it, one that ends a sentence, or one word with a capital is taken for shown. Not shown, by rule:
docstrings, annotations, patterns given to `re`, names that are split, formulas, examples to type, and markup.
"""

import ast
import re
import warnings
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

import sitelog

CODE = Path(sitelog.__file__).parent


class Shown(NamedTuple):
    """One text: `text` has {} for what is put in, `whole` the expressions themselves."""

    path: Path
    line: int
    text: str
    whole: str


@cache
def shown() -> Sequence[Shown]:
    """Every text in the code that people see, file by file."""
    return [
        Shown(path.relative_to(CODE), *found)
        for path in sorted(CODE.rglob("*.py"))
        for found in texts(path.read_text(encoding="utf-8"))
    ]


def texts(code: str) -> Iterator[tuple[int, str, str]]:
    """Line, text and the text with its expressions, of each text in that code that people see."""
    tree = ast.parse(code)
    hidden = {id(inner) for node in ast.walk(tree) for outer in _hidden(node) for inner in ast.walk(outer)}
    for node in ast.walk(tree):
        if id(node) in hidden:
            continue
        if isinstance(node, ast.JoinedStr):
            text, whole = _joined(node, "{}"), _joined(node)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = whole = node.value
        else:
            continue
        if re.search(r"\S\s+\S|[.?!:;,]\s*$|^\s*[A-Z][a-z]+\s*$", text) and not _is_code(text):
            yield node.lineno, text, whole


def _is_code(text: str) -> bool:
    """A formula, an element of a page, or no words at all."""
    if text.lstrip().startswith("<") or not re.search(r"[A-Za-z]{2}", text):
        return True
    try:
        with warnings.catch_warnings(action="ignore"):
            found = ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError):
        return False
    return isinstance(found, ast.BinOp | ast.Call)


def _hidden(node: ast.AST) -> Iterator[ast.AST]:
    """The parts of that node whose texts aren't shown."""
    match node:
        case ast.JoinedStr(values=values):  # taken whole, by its first node; what is put in has texts of its own
            for value in values:
                match value:
                    case ast.Constant():
                        yield value
                    case ast.FormattedValue(format_spec=ast.AST() as spec):
                        yield spec
        case (
            ast.Module(body=body)
            | ast.ClassDef(body=body)
            | ast.FunctionDef(body=body)
            | ast.AsyncFunctionDef(body=body)
        ):
            match body[:1]:
                case [ast.Expr(value=ast.Constant()) as docstring]:
                    yield docstring
    match node:
        case (
            ast.AsyncFunctionDef(returns=ast.AST() as note)
            | ast.FunctionDef(returns=ast.AST() as note)
            | ast.AnnAssign(annotation=note)
            | ast.arg(annotation=ast.AST() as note)
        ):
            yield note
        case ast.Call(func=ast.Attribute(value=ast.Name(id="re")), args=[pattern, *_]):
            yield pattern
        case ast.Call(func=ast.Attribute(value=ast.Constant() as names, attr="split")):
            yield names
        case ast.Call(func=ast.Attribute(attr="step"), args=args):
            yield from args[:2]
        case ast.keyword(arg="example", value=value):
            yield value
        case ast.Assign(targets=[ast.Name(id="CSS" | "DEFAULT_CSS")], value=value):
            yield value


def _joined(node: ast.JoinedStr, put_in: str = "") -> str:
    def part(value: ast.expr) -> str:
        if isinstance(value, ast.FormattedValue):
            return put_in or f"{{{ast.unparse(value.value)}}}"
        return str(value.value) if isinstance(value, ast.Constant) else ""

    return "".join(part(value) for value in node.values)
