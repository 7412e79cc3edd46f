"""What is installed is what is here: no folder and no data file is left at home."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from fnmatch import fnmatch
from pathlib import Path

from tests.architecture.project import PACKAGE, ROOT, modules

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
SETUP = PROJECT["tool"]["setuptools"]


def test_every_folder_is_a_package_that_is_installed() -> None:
    """Packages are listed by hand, because the grammar stands beside the package and is installed into it."""
    folders = {module.path.parent for module in modules()}
    expected = {".".join(folder.relative_to(ROOT).parts) for folder in folders} | {"recipelang.grammar"}
    assert set(SETUP["packages"]) == expected


def test_every_data_file_is_installed() -> None:
    for path in [*PACKAGE.rglob("*"), *(ROOT / "grammar").glob("*.lark")]:
        if not path.is_file() or path.suffix in (".py", ".pyc"):
            continue
        package = (
            "recipelang.grammar" if path.parent.name == "grammar" else ".".join(path.parent.relative_to(ROOT).parts)
        )
        patterns = SETUP["package-data"].get(package, [])
        assert any(fnmatch(path.name, pattern) for pattern in patterns), path.relative_to(ROOT)


def test_a_checkout_runs_without_being_installed(tmp_path: Path) -> None:
    """The grammar stands beside the package there, and inside it only where it is installed."""
    for folder in ("recipelang", "grammar", "examples"):
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=shutil.ignore_patterns("__pycache__"))
    environment = {**os.environ, "PYTHONPATH": str(tmp_path), "RECIPELANG_CACHE": str(tmp_path / "cache")}
    done = subprocess.run(
        [sys.executable, "-m", "recipelang", "check", "examples"],
        cwd=tmp_path, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("nothing found")


def test_a_library_that_is_missing_is_told_in_one_line(tmp_path: Path) -> None:
    program = "import sys; sys.modules['lark'] = None; from recipelang.commands import run; sys.exit(run(sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", program, "check", "--no-cache", "containers.recipe"],
        cwd=ROOT / "examples", env={**os.environ, "RECIPELANG_CACHE": str(tmp_path)}, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.startswith("recipelang: lark is not installed; `pip install")


def test_both_versions_are_one() -> None:
    import recipelang

    assert PROJECT["project"]["version"] == recipelang.__version__
