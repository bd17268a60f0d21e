"""Small wrongs put into Python sources one at a time: another operator, a boundary moved, a number off, a branch always taken.

A mutant is known by the place of its node in the tree of its file and by which change of that node it is; the text on disk is never touched.
Words are left alone, but for the three severities of findings, which decide what is shown first.
"""

import ast
from collections import Counter
from functools import cache
from pathlib import Path
from typing import NamedTuple

from mutants_cpp import numbered

COMPARISONS = {ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE), ast.GtE: (ast.Gt, ast.Lt),
               ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.In: (ast.NotIn,), ast.NotIn: (ast.In,), ast.Is: (ast.IsNot,),
               ast.IsNot: (ast.Is,)}
ARITHMETIC = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult}
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any"}
SEVERITIES = {"stop": "fix", "fix": "watch", "watch": "stop"}
LEFT_OUT = "statement left out: "
OFF = 1.1  # what a number that is no whole one is multiplied by
SIGNS = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "==", ast.NotEq: "!=", ast.In: "in", ast.NotIn: "not in",
         ast.Is: "is", ast.IsNot: "is not", ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}


class Mutant(NamedTuple):
    path: Path
    line: int
    what: str   # "'<' becomes '<='"
    text: str   # the line, as it stands
    lines: tuple[int, int]  # of the statement that holds it: which tests run it
    node: int
    change: int
    nth: int = 1  # of the same change in lines of the same text

    @property
    def told(self) -> str:
        return f"{self.path.parent.name}/{self.path.name}:{self.line}: {self.what} in `{self.text}`"


def changes(node):
    """(what is changed, function that changes the node in place) of one node."""
    if isinstance(node, ast.Compare):
        for place, sign in enumerate(node.ops):
            for other in COMPARISONS[type(sign)]:
                yield f"'{SIGNS[type(sign)]}' becomes '{SIGNS[other]}'", lambda n, place=place, other=other: n.ops.__setitem__(place, other())
    elif isinstance(node, (ast.BinOp, ast.AugAssign)) and type(node.op) in ARITHMETIC and not _is_text(node):
        other = ARITHMETIC[type(node.op)]
        yield f"'{SIGNS[type(node.op)]}' becomes '{SIGNS[other]}'", lambda n: setattr(n, "op", other())
    elif isinstance(node, ast.BoolOp):
        name, other = ("and", ast.Or) if isinstance(node.op, ast.And) else ("or", ast.And)
        yield f"'{name}' becomes '{'or' if name == 'and' else 'and'}'", lambda n: setattr(n, "op", other())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "'not' left out", lambda n: setattr(n, "operand", ast.UnaryOp(ast.Not(), n.operand))
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        yield "sign turned", lambda n: setattr(n, "op", ast.UAdd())
    elif isinstance(node, (ast.If, ast.IfExp, ast.While)):
        for always in (True, False) if not isinstance(node, ast.While) else (False,):
            yield f"condition always {always}", lambda n, always=always: setattr(n, "test", ast.Constant(always))
    elif isinstance(node, ast.comprehension):
        for place in range(len(node.ifs)):
            yield "condition of the list left out", lambda n, place=place: n.ifs.__setitem__(place, ast.Constant(True))
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
        yield f"'{node.func.id}' becomes '{CALLS[node.func.id]}'", lambda n: setattr(n.func, "id", CALLS[n.func.id])
    elif isinstance(node, ast.Constant):
        yield from _constant(node)
    yield from _statements(node)


def _constant(node):
    value = node.value
    if isinstance(value, bool):
        yield f"{value} becomes {not value}", lambda n: setattr(n, "value", not value)
    elif isinstance(value, int):
        yield f"{value} becomes {value + 1}", lambda n: setattr(n, "value", value + 1)
    elif isinstance(value, float):
        other = value * OFF if value and abs(value) < 1e300 else 1.0
        yield f"{value} becomes {other:.6g}", lambda n: setattr(n, "value", other)
    elif isinstance(value, str) and value in SEVERITIES:
        yield f"'{value}' becomes '{SEVERITIES[value]}'", lambda n: setattr(n, "value", SEVERITIES[value])


def _statements(node):
    """What a body may lose: a `continue`, what it yields or does beside its words."""
    body = getattr(node, "body", None)
    for place, statement in enumerate(body if isinstance(body, list) else ()):
        if _may_go(statement):
            yield LEFT_OUT + ast.unparse(statement)[:40], lambda n, place=place: n.body.__setitem__(place, ast.Pass())


def _is_text(node):
    """True where a plus joins texts."""
    parts = (node.left, node.right) if isinstance(node, ast.BinOp) else (node.value,)
    return any(isinstance(inner, ast.JoinedStr) or (isinstance(inner, ast.Constant) and isinstance(inner.value, str))
               for part in parts for inner in ast.walk(part))


@cache
def text_of(path: Path) -> str:
    """A source as it stood when it was first read: it may be worked at while its mutants are tried."""
    return path.read_text(encoding="utf-8")


def mutants_of(path: Path) -> list[Mutant]:
    """Every mutant of a file, in the order of its lines."""
    source = text_of(path)
    tree, lines = ast.parse(source), source.splitlines()
    around, silent = _surroundings(tree)
    found, seen = [], Counter()
    for number, node in enumerate(ast.walk(tree)):
        if node in silent:
            continue
        for change, (what, _) in enumerate(changes(node)):
            if what.startswith(LEFT_OUT):
                first = [inner for inner in node.body if _may_go(inner)][_gone(node, change)].lineno
            else:
                first = node.target.lineno if isinstance(node, ast.comprehension) else node.lineno  # that has no line of its own
            found.append(Mutant(path, first, what, lines[first - 1].strip(), _of(around, node, first), number, change))
    return [numbered(mutant, seen) for mutant in sorted(found, key=lambda mutant: (mutant.line, mutant.node, mutant.change))]


def _may_go(statement):
    return isinstance(statement, (ast.Continue, ast.Break, ast.Raise)) or (
        isinstance(statement, ast.Expr) and not isinstance(statement.value, ast.Constant))


def _gone(node, change):
    """Which of the statements that may go this change takes: those come after the node's own changes."""
    own = sum(not what.startswith(LEFT_OUT) for what, _ in changes(node))
    return change - own


def _of(around, node, line):
    first, last = around.get(node, (line, line))
    return (first, last) if first <= line <= last else (line, line)


def _surroundings(tree):
    """(node -> lines of its statement without the statement's body, nodes that are not mutated: annotations, `__all__`, formats, what type checkers alone read)."""
    around, silent = {}, set()
    for statement in ast.walk(tree):
        if not isinstance(statement, ast.stmt):
            continue
        body = [part for name in ("body", "orelse", "finalbody", "handlers") for part in getattr(statement, name, [])]
        last = min((part.lineno for part in body), default=statement.end_lineno + 1) - 1
        inner = {node for part in body for node in ast.walk(part)}
        for node in ast.walk(statement):
            if node not in inner:
                around[node] = (statement.lineno, max(statement.lineno, last))
        if isinstance(statement, ast.Assign) and any(getattr(target, "id", "") == "__all__" for target in statement.targets):
            silent.update(ast.walk(statement))
        if isinstance(statement, ast.If) and getattr(statement.test, "id", "") == "TYPE_CHECKING":
            silent.update(ast.walk(statement))
        for annotation in (getattr(statement, "annotation", None), getattr(statement, "returns", None)):
            silent.update(ast.walk(annotation) if annotation else ())
    for node in ast.walk(tree):
        if isinstance(node, ast.FormattedValue) and node.format_spec:
            silent.update(ast.walk(node.format_spec))
        if isinstance(node, ast.arg) and node.annotation:
            silent.update(ast.walk(node.annotation))
    return around, silent


def code_of(mutant: Mutant):
    """The compiled file with this one wrong in it."""
    tree = ast.parse(text_of(mutant.path))
    node = next(node for number, node in enumerate(ast.walk(tree)) if number == mutant.node)
    _, change = list(changes(node))[mutant.change]
    change(node)
    return compile(ast.fix_missing_locations(tree), str(mutant.path), "exec")
