"""The shape of the code: no circle of files, functions that are read at one look, calls that say what each value is."""

from __future__ import annotations

import ast
import graphlib
from collections.abc import Iterator

import pytest

from tests.architecture.project import PACKAGE, ROOT, Module, modules

MODULES = modules()
IDS = [module.name for module in MODULES]
BY_NAME = {".".join(module.path.relative_to(ROOT).with_suffix("").parts): module for module in MODULES}

MOST_LINES_OF_A_FUNCTION = 60
MOST_VALUES_IN_A_ROW = 7


def imported_files(module: Module) -> set[str]:
    """The files of the package that a file imports, wherever the import stands: at the top, in a function, or for the
    type checker only."""
    found: set[str] = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found.add(inner if inner in BY_NAME else node.module)
    fronts = {f"{name}.__init__" for name in found}
    return (found | fronts) & BY_NAME.keys()


def test_no_file_needs_itself() -> None:
    """Files that import each other are one file in two places: neither is understood, tested or moved without the
    other."""
    graph = {name: imported_files(module) - {name} for name, module in BY_NAME.items()}
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        pytest.fail(" imports ".join(reversed(error.args[1])))


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_a_function_is_read_at_one_look(module: Module) -> None:
    for node in ast.walk(module.tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            lines = (node.end_lineno or 0) - node.lineno + 1
            assert lines <= MOST_LINES_OF_A_FUNCTION, f"{module.name}:{node.lineno} {node.name} has {lines} lines"


def open_ended(module: Module) -> set[str]:
    """Functions of a module that take any number of values, such as the words of a command line."""
    return {
        node.name
        for node in ast.walk(module.tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and node.args.vararg
    }


def calls(module: Module) -> Iterator[ast.Call]:
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] not in open_ended(module):
            yield node


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_a_call_says_what_each_of_many_values_is(module: Module) -> None:
    """In a row of eight nobody sees which is which, and two of one type change places unnoticed."""
    for call in calls(module):
        assert len(call.args) <= MOST_VALUES_IN_A_ROW, f"{module.name}:{call.lineno} {ast.unparse(call.func)}"


def test_the_checks_see_what_they_look_for() -> None:
    """Each of them is given a slip."""
    slip = Module(PACKAGE / "made_up.py", ast.parse("thing(1, 2, 3, 4, 5, 6, 7, 8)\nimport recipelang.text.record\n"))
    assert [len(call.args) for call in calls(slip)] == [8]
    assert imported_files(slip) == {"recipelang.text.record"}
    words = Module(PACKAGE / "made_up.py", ast.parse("def run(*words): ...\nrun(1, 2, 3, 4, 5, 6, 7, 8)\n"))
    assert not list(calls(words))
