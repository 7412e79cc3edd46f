"""The documents speak of what is here: every folder has its line, and what is distributed is what is tested."""

from __future__ import annotations

import re
import stat

import pytest

from tests.architecture.project import LAYERS, PACKAGE, ROOT

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_every_folder_of_the_package_says_what_it_does_not_know() -> None:
    listed = re.findall(r"^\| `recipelang/(\w+)/` \|", DEVELOPERS, re.MULTILINE)
    there = {path.name for path in PACKAGE.iterdir() if path.is_dir() and (path / "__init__.py").exists()}
    assert listed == [layer for layer in LAYERS if layer in there], "in the house order"


def test_every_folder_of_tests_has_its_line() -> None:
    listed = set(re.findall(r"^\| `tests/(\w+)/` \|", DEVELOPERS, re.MULTILINE))
    there = {path.parent.name for path in (ROOT / "tests").glob("*/*.py")}
    assert listed >= there


MADE_UP = set(re.findall(r"^```\w+\n(?:#|//) (\S+)$", DEVELOPERS, re.MULTILINE)) - {
    name for name in re.findall(r"^# (\S+\.\w+)$", DEVELOPERS, re.MULTILINE) if (ROOT / name).exists()
}
"""Files that the reader is shown how to add."""

NAMED = re.compile(r"`((?:[.\w*-]+/)+[\w*.…-]*|\w+\.(?:py|toml|lark|md|recipe))`")


@pytest.mark.parametrize("document", ["DEVELOPERS.md", "README.md", "editors/README.md"])
def test_every_path_that_is_named_exists(document: str) -> None:
    """A path counts from the root, from the package, or from beside the document; of a bare file name one is enough."""
    text = (ROOT / document).read_text(encoding="utf-8")
    for name in NAMED.findall(text):
        places = (ROOT, PACKAGE, (ROOT / document).parent)
        if name in MADE_UP:
            continue
        assert any(next(place.glob(name if "/" in name else f"**/{name}"), None) for place in places), (
            f"{document} names {name}"
        )


def test_every_folder_of_tests_is_a_package() -> None:
    """Else `pytest`, called by itself, can't find the harness, and two files of one name would collide."""
    for path in (ROOT / "tests").rglob("test_*.py"):
        assert (path.parent / "__init__.py").exists(), path.parent


def test_a_source_distribution_holds_what_it_takes_to_test_it() -> None:
    manifest = (ROOT / "MANIFEST.in").read_text(encoding="utf-8")
    for folder in ("grammar", "examples", "editors", "tests", ".ci"):
        assert f"recursive-include {folder} *" in manifest


def test_the_one_check_command_can_be_run() -> None:
    script = ROOT / ".ci" / "run"
    assert script.stat().st_mode & stat.S_IXUSR
    for word in ("README.md", "ruff check", "ruff format --check", "mypy --strict"):
        assert word in script.read_text(encoding="utf-8")
