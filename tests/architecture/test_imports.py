"""Imports point one way, and each outside library stays behind its one door."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.project import LAYERS, ROOT, Module, modules

DOORS = {
    "lark": {"syntax"},
    "pint": {"units"},
    "rich": {"output", "commands"},
    "pygments": {"output"},
    "jinja2": {"output"},
    "typst": {"output"},
    "font_source_sans_pro": {"output"},
    "pygls": {"server"},
    "lsprotocol": {"server"},
    "cfractions": {"units"},
    "openpyxl": {"intake"},
    "docx": {"intake"},
}
"""Which folders may import which library from outside."""

MODULES = modules()
IDS = [module.name for module in MODULES]


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_imports_point_one_way(module: Module) -> None:
    """A folder knows nothing of the folders after it, not even inside a function or for the type checker. The package's
    own front (`__init__`, `__main__`) stands after them all."""
    if not module.layer:
        return
    place = LAYERS.index(module.layer)
    for found in module.imports:
        parts = found.module.split(".")
        if parts[0] == "recipelang" and len(parts) > 1 and parts[1] != "grammar":
            assert LAYERS.index(parts[1]) <= place, f"{module.name}:{found.line} imports {found.module}"


@pytest.mark.parametrize("module", MODULES, ids=IDS)
def test_outside_libraries_stay_behind_their_doors(module: Module) -> None:
    for found in module.imports:
        top = found.module.split(".")[0]
        if top == "recipelang" or top in sys.stdlib_module_names:
            continue
        assert top in DOORS, f"{module.name}:{found.line} imports {top}, which no folder may"
        assert module.layer in DOORS[top], f"{module.name}:{found.line} imports {top}"


def test_fractions_come_from_one_module() -> None:
    """Two types of fraction would mix, and every sum with one of each would be slower than either."""
    found = {module.name for module in MODULES for one in module.imports if one.module in ("fractions", "cfractions")}
    assert found == {"recipelang/units/fraction.py"}
    made = re.compile(r"^\w+(?:: Final)? = Fraction\([01]\)$", re.MULTILINE)
    found = {module.name for module in MODULES if made.search(module.path.read_text(encoding="utf-8"))}
    assert found == {"recipelang/units/fraction.py"}, "ZERO and ONE are made once"


def test_the_grammar_imports_nothing() -> None:
    """Beside its front there is only what makes the tables for a wheel, which nothing of the package may import."""
    assert sorted(path.name for path in (ROOT / "grammar").glob("*.py")) == ["__init__.py", "build_tables.py"]
    assert not [found for module in MODULES for found in module.imports if "build_tables" in found.module]
    assert "import" not in (ROOT / "grammar" / "__init__.py").read_text(encoding="utf-8")


def test_every_folder_has_its_place_in_the_order() -> None:
    assert {module.layer for module in MODULES} - {""} <= set(LAYERS)


# ---- what a check pays for -------------------------------------------------------------------------------------------

CHECK_NEEDS: dict[str, set[str] | None] = {
    "text": None, "units": None, "findings": None, "syntax": None, "model": None, "standards": None, "pantry": None,
    "evaluate": None, "facts": None, "rules": None, "workspace": None,
    "output": {"as_text"},
    "commands": {"arguments", "check"},
}  # fmt: skip
"""Modules that `recipelang check FILE` may import, by folder; None where any may."""

NEVER = {
    "pint",
    "rich",
    "jinja2",
    "pygls",
    "lsprotocol",
    "asyncio",
    "multiprocessing",
    "unittest",
    "email",
    "http",
    "xml",
    "openpyxl",
    "docx",
    "lxml",
}
"""What it may never import: each costs more than a check of one file."""

PROBE = """
import contextlib, io, sys
from recipelang.commands import run
with contextlib.redirect_stdout(io.StringIO()):
    run(sys.argv[1:])
print(*sorted(sys.modules), sep="\\n")
"""


def imported(arguments: list[str], cache: Path) -> set[str]:
    """The modules that a command line of a fresh process imports."""
    environment = {**os.environ, "RECIPELANG_CACHE": str(cache)}
    done = subprocess.run(
        [sys.executable, "-c", PROBE, *arguments], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    return set(done.stdout.split())


AGAIN_NEEDS: dict[str, set[str] | None] = {
    "text": None, "findings": None, "workspace": None,
    "syntax": {"split"},
    "output": {"as_text"},
    "commands": {"arguments", "check"},
}  # fmt: skip
"""What the same check may import when nothing has changed since: no parser, no model, no fact, no rule."""

CHECK = ["check", "examples/recipes/cups.recipe"]


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cache")


@pytest.fixture(scope="module")
def check_imports(cache: Path) -> set[str]:
    """What a first check imports, with nothing remembered."""
    return imported(CHECK, cache)


@pytest.fixture(scope="module")
def again_imports(cache: Path, check_imports: set[str]) -> set[str]:
    """What a second check imports, after the first."""
    return imported(CHECK, cache)


def beyond(names: set[str], needs: dict[str, set[str] | None]) -> set[str]:
    """Modules of ours that are imported and not allowed."""
    surplus = set()
    for name in names:
        parts = name.split(".")
        if parts[0] == "recipelang" and len(parts) > 2:
            allowed = needs.get(parts[1], set())
            if allowed is not None and parts[2] not in allowed:
                surplus.add(name)
    return surplus


def test_a_check_imports_only_what_it_uses(check_imports: set[str]) -> None:
    assert not beyond(check_imports, CHECK_NEEDS)


def test_an_unchanged_check_neither_parses_nor_judges(again_imports: set[str]) -> None:
    assert not beyond(again_imports, AGAIN_NEEDS)
    assert "lark" not in again_imports


def test_a_check_never_imports_the_heavy_ones(check_imports: set[str]) -> None:
    assert not {name.split(".")[0] for name in check_imports} & NEVER


def test_explain_reads_no_recipe(tmp_path: Path) -> None:
    """A rule's page is read from its file; nothing of the notation is needed for it."""
    found = imported(["explain", "claim-too-high"], tmp_path)
    assert "lark" not in found
    assert "recipelang.workspace.workspace" not in found
