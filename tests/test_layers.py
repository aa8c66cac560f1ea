"""The structure: imports go one way, without a cycle, and no file or function grows past what a person reads at once."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FILES = sorted((ROOT / "xlfab").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))

MACHINERY = {"core", "trace", "tables"}
TRADE = ["process", "cycle_time", "energy", "cost", "investment"]  # each may import those before it
USES = MACHINERY | {"catalogue", "inputs"}
FRONT = {"cli", "command_table", "command_options", "functions_command", "doctor_command"}
ALLOWED: dict[str, set[str]] = {
    "core": set(),
    "trace": {"core"},
    "tables": {"core", "trace"},
    **{folder: MACHINERY | set(TRADE[:place]) for place, folder in enumerate(TRADE)},
    "catalogue": MACHINERY | set(TRADE),
    "reference": MACHINERY | {"catalogue"},
    "inputs": {"core"},
    "work": USES,
    "workbook": MACHINERY | {"catalogue", "reference"},
    "comparison": USES | {"investment", "work", "workbook"},  # the engine of doubt is no formula
    "quote": USES | {"work", "workbook"},
    "customer_list": USES,
    "meter": {"core", "inputs"},
    "actuals": USES | {"quote", "workbook"},
    "used_workbook": USES | {"work", "workbook", "comparison", "quote"},
    "hosts": MACHINERY | {"catalogue"},
}
FILE_LINES = 400
FUNCTION_STATEMENTS = 30  # a table's columns are listed one by one, a statement each
FORMULA_LINES = 25
FORMULA_ARGUMENTS = 8
HEAVY = (
    "pandas",
    "openpyxl",
    "pydantic",
    "pint",
    "xlsxwriter",
    "scipy",
    "sklearn",
    "ruptures",
    "matplotlib",
    "rich",
    "typer",
    "xlwings",
)


def module_of(path: Path) -> str:
    """The dotted name of a file."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def layer(module: str) -> str:
    """The layer of a module: its folder, or its own name at the top of the package."""
    return module.split(".")[1] if "." in module else module


def is_command(module: str) -> bool:
    """True for the files of the command line, each in the room of what it starts."""
    return module.endswith(("_command", "_commands"))


MODULES = {module_of(path): path for path in FILES}


def targets(node: ast.AST) -> Iterator[str]:
    """The modules of xlfab that one statement imports."""
    if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "xlfab":
        for alias in node.names:
            whole = f"{node.module}.{alias.name}"
            yield whole if whole in MODULES else node.module
    elif isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names if alias.name.split(".")[0] == "xlfab")


@cache
def tree(path: Path) -> ast.Module:
    """A file as parsed."""
    return ast.parse(path.read_text(encoding="utf-8"))


def is_type_checking(node: ast.AST) -> bool:
    """True for the block that only the type checker reads."""
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def imported(path: Path, at_once: bool) -> set[str]:
    """What a file imports: `at_once` when it is loaded, else anywhere in it."""
    nodes = tree(path).body if at_once else [node for node in ast.walk(tree(path)) if not is_type_checking(node)]
    return {name for node in nodes for name in targets(node)}


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_imports_go_one_way(path: Path) -> None:
    own = layer(module_of(path))
    if own in FRONT | {"__main__", "xlfab"} or is_command(module_of(path)):
        return  # commands parse, call and print: they may import anything, and only the command line imports them
    assert own in ALLOWED, f"say in tests/test_layers.py what {own} may import, and in DEVELOPERS.md what it is"
    names = imported(path, at_once=False)
    wrong = {name for name in names if layer(name) not in ALLOWED[own] | {own, "xlfab"} or is_command(name)}
    assert not wrong, f"{module_of(path)} may not import {', '.join(sorted(wrong))}"


def test_no_import_cycle() -> None:
    edges = {name: imported(path, at_once=True) - {name} for name, path in MODULES.items()}
    done: set[str] = set()

    def visit(name: str, way: tuple[str, ...]) -> None:
        assert name not in way, " -> ".join((*way[way.index(name) :], name))
        if name in done:
            return
        for target in sorted(edges.get(name, ())):
            visit(target, (*way, name))
        done.add(name)

    for name in sorted(edges):
        visit(name, ())
    assert done >= set(MODULES)


def test_a_cycle_would_be_seen() -> None:
    """The check itself: the graph it walks has the edges that are known to be there."""
    assert "xlfab.cycle_time.stroke" in imported(MODULES["xlfab.catalogue"], at_once=True)
    assert "xlfab.core.registry" in imported(MODULES["xlfab.cycle_time.stroke"], at_once=True)


@pytest.mark.parametrize("path", FILES + TESTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_files_stay_readable(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= FILE_LINES, f"{path.name} has {lines} lines: divide it by topic"


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    """Every function of a file, methods and inner ones too."""
    yield from (node for node in ast.walk(tree(path)) if isinstance(node, ast.FunctionDef))


def statements(function: ast.FunctionDef) -> int:
    """How many statements a function has, docstring left out."""
    return sum(isinstance(node, ast.stmt) for node in ast.walk(function)) - 1 - bool(ast.get_docstring(function))


def is_formula(function: ast.FunctionDef) -> bool:
    """True for a function with the decorator of the registry."""
    marks = (mark.func for mark in function.decorator_list if isinstance(mark, ast.Call))
    return any(isinstance(mark, ast.Name) and mark.id == "function" for mark in marks)


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_functions_stay_readable(path: Path) -> None:
    long = [f"{one.name}: {statements(one)}" for one in functions(path) if statements(one) > FUNCTION_STATEMENTS]
    assert not long, f"more than {FUNCTION_STATEMENTS} statements: {', '.join(long)}"


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_formulas_stay_small(path: Path) -> None:
    for one in functions(path):
        if not is_formula(one):
            continue
        first = one.body[1] if ast.get_docstring(one) and len(one.body) > 1 else one.body[0]
        assert (one.end_lineno or 0) - first.lineno < FORMULA_LINES, one.name
        assert len(one.args.args) <= FORMULA_ARGUMENTS, one.name


def test_the_top_of_the_package_is_machinery() -> None:
    top = {path.stem for path in FILES if path.parent.name == "xlfab"}
    assert top <= set(ALLOWED) | FRONT | {"__init__", "__main__"}


@pytest.mark.parametrize(
    "use",
    [
        "import xlfab",
        "from xlfab.catalogue import FUNCTIONS as F",
        "from xlfab.catalogue import FUNCTIONS as F; F['axis_move_time_s'](500, 500, 2500, 25000)",
        "from xlfab.catalogue import FUNCTIONS as F; F['net_present_value_now_cur'](0.08, [-40000, 5000, 60000])",
        "from xlfab.catalogue import FUNCTIONS as F; from xlfab.trace.spreadsheet import plain; F['part_cost_cur'](9, 1, 2, 0, 0, [0, 0.1])",
    ],
)
def test_functions_load_without_the_libraries_of_the_edges(use: str) -> None:
    code = f"import sys; {use}; print([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.strip() == "[]"
