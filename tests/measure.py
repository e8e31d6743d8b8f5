"""Signs of how a package reads: `python -m tests.measure [FOLDER...]`.

A line of figures a folder: a sign is no aim. Branches count if, for, while, except, assert, inline if, comprehension,
each further operand of and/or; a line of code is one that isn't blank, a comment or a docstring.
"""

import ast
import io
import statistics
import sys
import tokenize
from functools import cache
from pathlib import Path
from typing import NamedTuple

BRANCHES = (ast.If, ast.For, ast.AsyncFor, ast.While, ast.ExceptHandler, ast.IfExp, ast.Assert, ast.match_case)
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)
LAYOUT = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.ENDMARKER}


def branches(tree: ast.AST) -> int:
    count = 0
    for node in ast.walk(tree):
        count += isinstance(node, BRANCHES)
        if isinstance(node, ast.comprehension):
            count += 1 + len(node.ifs)
        if isinstance(node, ast.BoolOp):
            count += len(node.values) - 1
    return count


def code_lines(source: str, tree: ast.Module) -> int:
    docs: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, (*FUNCTIONS, ast.ClassDef, ast.Module)) and ast.get_docstring(node):
            docs.update(range(node.body[0].lineno, (node.body[0].end_lineno or 0) + 1))
    lines: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type not in LAYOUT:
            lines.update(range(token.start[0], token.end[0] + 1))
    return len(lines - docs)


Public = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def public_names(tree: ast.Module) -> list[Public]:
    found: list[Public] = []
    for node in tree.body:
        if isinstance(node, (*FUNCTIONS, ast.ClassDef)) and not node.name.startswith("_"):
            found.append(node)
            if isinstance(node, ast.ClassDef):
                found += [n for n in node.body if isinstance(n, FUNCTIONS) and not n.name.startswith("_")]
    return found


@cache
def largest_circle(folder: Path) -> int:
    """Files of the largest set that import each other, directly or not; imports inside functions count."""
    modules = {".".join((folder.name, *f.relative_to(folder).with_suffix("").parts)): f for f in folder.rglob("*.py")}
    uses: dict[str, set[str]] = {}
    for name, file in modules.items():
        uses[name] = set()
        for node in ast.walk(ast.parse(file.read_text())):
            if isinstance(node, ast.ImportFrom) and node.module:
                uses[name] |= {
                    m for m in (node.module, *(f"{node.module}.{a.name}" for a in node.names)) if m in modules
                }
            elif isinstance(node, ast.Import):
                uses[name] |= {a.name for a in node.names if a.name in modules}

    def reach(start: str) -> set[str]:
        seen: set[str] = set()
        waiting = [start]
        while waiting:
            for other in uses[waiting.pop()] - seen:
                seen.add(other)
                waiting.append(other)
        return seen

    reached = {name: reach(name) for name in uses}
    return max(
        (sum(other in reached[name] and name in reached[other] for other in reached) for name in reached), default=0
    )


class Signs(NamedTuple):
    """What was counted in a folder; `branching` and `params` have one row a function."""

    lines: list[int]  # of each file, in order
    code: int
    branch: int
    inline: int
    names: list[int]  # letters of each
    docs: int
    publics: int
    branching: list[tuple[int, str]]
    params: list[tuple[int, str]]

    def over(self, most: int) -> list[tuple[int, str]]:
        """The functions of more branches than that."""
        return [row for row in self.branching if row[0] > most]


def signs(folder: Path) -> Signs:
    """Everything but the circles."""
    lines, code, branch, inline, names, docs, publics, branching, params = [], 0, 0, 0, [], 0, 0, [], []
    for file in sorted(folder.rglob("*.py")):
        source = file.read_text()
        tree = ast.parse(source)
        if file.name != "__init__.py":
            lines.append(source.count("\n"))
        code += code_lines(source, tree)
        branch += branches(tree)
        public = public_names(tree)
        publics += len(public)
        docs += sum(ast.get_docstring(node) is not None for node in public)
        for node in ast.walk(tree):
            inline += isinstance(node, ast.IfExp)
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                names.append(len(node.id))
            elif isinstance(node, ast.arg) and node.arg not in ("self", "cls"):
                names.append(len(node.arg))
            elif isinstance(node, FUNCTIONS):
                place = f"{file.relative_to(folder).as_posix()}:{node.name}"
                given = node.args
                branching.append((1 + branches(node), place))
                params.append((len(given.posonlyargs) + len(given.args) + len(given.kwonlyargs), place))
    return Signs(sorted(lines), code, branch, inline, names, docs, publics, branching, params)


def measure(folder: Path) -> None:
    found = signs(folder)
    print(
        f"{folder}: {len(found.lines)} files, {statistics.mean(found.lines):.0f} lines"
        f" (95th {found.lines[int(0.95 * len(found.lines))]});"
        f" branches {100 * found.branch / found.code:.1f} and inline ifs {100 * found.inline / found.code:.1f}"
        f" in 100 lines of code;"
        f" names {statistics.mean(found.names):.1f} letters;"
        f" docstrings {100 * found.docs / max(found.publics, 1):.0f} % of public;"
        f" over 10 branches {len(found.over(10))}, worst {max(found.branching)};"
        f" parameters at most {max(found.params)};"
        f" largest circle {largest_circle(folder)}"
    )


if __name__ == "__main__":
    for argument in sys.argv[1:] or ["sitelog"]:
        measure(Path(argument))
