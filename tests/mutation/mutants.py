"""Mutants of a module: the same text with one small fault, each named by its function, line and change."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

_SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_EDGES: dict[type[ast.AST], type[ast.AST]] = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
_TURNED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.Gt,
    ast.LtE: ast.GtE,
    ast.Gt: ast.Lt,
    ast.GtE: ast.LtE,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
}
_EITHER_WAY = ("maximum", "minimum", "zip", "max", "min")  # their arguments may change places
_OTHER_CALL = {"maximum": "minimum", "minimum": "maximum", "floor": "ceil", "ceil": "floor", "sin": "cos", "tan": "sin"}
GUARD = "guard"


@dataclass(frozen=True)
class Mutant:
    """One function with one fault."""

    function: str
    kind: str
    text: str
    tree: ast.FunctionDef


def mutants(source: str) -> Iterator[Mutant]:
    """Every mutant of the functions of a module; decorators, docstrings and constants of the module stay as they are."""
    for node in ast.parse(source).body:
        if isinstance(node, ast.FunctionDef):
            node.decorator_list, node.returns = [], None
            for argument in node.args.args:
                argument.annotation = None
            yield from _of_function(node)


def _of_function(function: ast.FunctionDef) -> Iterator[Mutant]:
    edges = {
        id(end)
        for one in ast.walk(function)
        if isinstance(one, ast.Compare)
        for end in one.comparators
        if _is_edge(one)
    }
    for number, node in enumerate(ast.walk(function)):
        if id(node) in edges:
            continue
        for change in range(_changes(node)):
            made = copy.deepcopy(function)
            copied = next(one for place, one in enumerate(ast.walk(made)) if place == number)
            before = ast.unparse(node)
            done = _changed(made, copied, change)
            if done:
                kind, after = done
                yield Mutant(
                    function.name, kind, f"{function.name}: {before} -> {after}", ast.fix_missing_locations(made)
                )


def _is_edge(node: ast.Compare) -> bool:
    """A comparison with 0, or of a switch: moving it a little changes nothing that can be asked; its edge and its turn do."""
    end = node.comparators[0]
    return isinstance(end, ast.Constant) and (not end.value or "_switch" in ast.unparse(node.left))


def _changes(node: ast.AST) -> int:
    """How many changes are tried at a node."""
    if isinstance(node, ast.BinOp):
        return 3
    if isinstance(node, ast.Compare):
        return 2
    if isinstance(node, ast.Call):
        return max(4, len(node.args))
    return int(isinstance(node, ast.Constant) and type(node.value) in (int, float))


def _changed(function: ast.FunctionDef, node: ast.AST, change: int) -> tuple[str, str] | None:
    """Make one change to a node; its kind and the new text, or nothing if there is no such change."""
    if isinstance(node, ast.BinOp):
        return _operator(function, node, change)
    if isinstance(node, ast.Constant) and type(node.value) in (int, float) and change == 0:
        node.value = node.value * 1.01 if node.value else 0.01
        return "constant x 1.01", ast.unparse(node)
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        table, kind = ((_EDGES, "edge of a comparison"), (_TURNED, "comparison turned"))[change % 2]
        new = table.get(type(node.ops[0])) if change < 2 else None
        if new:
            node.ops[0] = new()  # type: ignore[call-overload]
            return kind, ast.unparse(node)
    if isinstance(node, ast.Call):
        return _call(function, node, change)
    return None


def _operator(function: ast.FunctionDef, node: ast.BinOp, change: int) -> tuple[str, str] | None:
    if change == 0 and type(node.op) in _SWAPPED:
        node.op = _SWAPPED[type(node.op)]()  # type: ignore[assignment]
        return "operator", ast.unparse(node)
    if change in (1, 2):
        kept = node.left if change == 1 else node.right
        _replace(function, node, kept)
        return "term left out", ast.unparse(kept)
    return None


def _call(function: ast.FunctionDef, node: ast.Call, change: int) -> tuple[str, str] | None:
    name = node.func.attr if isinstance(node.func, ast.Attribute) else ""
    if change == 0 and name in _OTHER_CALL and isinstance(node.func, ast.Attribute):
        node.func.attr = _OTHER_CALL[name]
        return "other function", ast.unparse(node)
    if name == "where" and len(node.args) == 3:
        return _where(function, node, change)
    pairs = len(node.args) - 1
    if name in _EITHER_WAY or (isinstance(node.func, ast.Name) and node.func.id in _EITHER_WAY):
        return None
    if 1 <= change <= pairs and not any(isinstance(item, ast.Starred) for item in node.args):
        node.args[change - 1], node.args[change] = node.args[change], node.args[change - 1]
        return "arguments swapped", ast.unparse(node)
    return None


def _where(function: ast.FunctionDef, node: ast.Call, change: int) -> tuple[str, str] | None:
    guard = [place for place in (1, 2) if ast.unparse(node.args[place]) == "np.nan"]
    if change == 1 and not guard:
        node.args[1], node.args[2] = node.args[2], node.args[1]
        return "arguments swapped", ast.unparse(node)
    if change == 2 and guard:
        kept = node.args[3 - guard[0]]
        _replace(function, node, kept)
        return GUARD, ast.unparse(kept)
    if change == 3 and guard:
        node.args[guard[0]] = ast.Constant(0.0)
        return GUARD, ast.unparse(node)
    return None


def _replace(function: ast.FunctionDef, old: ast.AST, new: ast.AST) -> None:
    """Put a node in the place of another."""
    for parent in ast.walk(function):
        for field, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, field, new)
            elif isinstance(value, list):
                setattr(parent, field, [new if one is old else one for one in value])
