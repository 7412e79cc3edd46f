"""What is installed is what is here: no folder and no data file is left at home."""

from __future__ import annotations

import tomllib
from fnmatch import fnmatch

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


def test_both_versions_are_one() -> None:
    import recipelang

    assert PROJECT["project"]["version"] == recipelang.__version__
