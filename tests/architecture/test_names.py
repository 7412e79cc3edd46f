"""Names and words: modules say what they are, and nothing speaks of the machine it was written on."""

from __future__ import annotations

import ast
import re

import pytest

from tests.architecture.project import ROOT, Module, modules, texts

MODULES = modules()
IDS = [module.name for module in MODULES]

NO_NAMES = {"utils", "util", "helpers", "helper", "common", "manager", "data", "misc", "base", "core", "tools", "stuff"}
"""Module names that say nothing of what is inside, or invite everything in."""

LONG_BY_NATURE = {
    "recipelang/syntax/tree.py": "one named tuple for each form of line",
    "recipelang/syntax/build.py": "one method for each form of line",
}
MOST_LINES = 400
MOST_LINES_BY_NATURE = 700

ENTRIES = {"check": "rules", "run": "commands", "main": ""}
"""Functions whose module's docstring is theirs: a rule's check, a command's run."""


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_the_module_is_named_for_what_it_is(module: Module) -> None:
    assert module.path.stem.strip("_") not in NO_NAMES


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_the_module_says_what_it_does(module: Module) -> None:
    text = ast.get_docstring(module.tree)
    assert text
    assert len(text) > 10


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_the_module_has_one_subject(module: Module) -> None:
    """Past some four hundred lines a module is two modules, unless it lists what there simply is much of."""
    most = MOST_LINES_BY_NATURE if module.name in LONG_BY_NATURE else MOST_LINES
    assert len(module.path.read_text(encoding="utf-8").splitlines()) <= most


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_public_functions_give_their_promise(module: Module) -> None:
    """A public function of more than a few lines says what it promises; shorter ones say it by their names."""
    for node in module.tree.body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        if ENTRIES.get(node.name) == module.layer or (node.end_lineno or 0) - node.lineno <= 6:
            continue
        assert ast.get_docstring(node), f"{module.name}:{node.lineno} {node.name}"


PATHS = re.compile(r"/(?:work|tmp|home|root|Users|mnt|opt)/\w|[A-Z]:\\\\Users|\.\./shared")
"""Folders of somebody's machine."""

MAKERS = re.compile(
    r"\b(?:language model|chat ?bot|prompted|LLMs?|A\.?I\.? (?:assistant|generated)|sub-?agents?|the brief|"
    r"another session|this session)\b",
    re.IGNORECASE,
)
"""Words about how a text came about; a reader wants to know what it says."""


def test_nothing_speaks_of_the_machine_or_the_making() -> None:
    here = ROOT / "tests" / "architecture"
    for path in texts():
        if here in path.parents:
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1):
            found = PATHS.search(line) or MAKERS.search(line)
            assert not found, f"{path.relative_to(ROOT)}:{number} {found[0] if found else ''}"
