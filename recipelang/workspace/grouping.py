"""Paths of several libraries: which belong together, and one result made of several.

A name of one library means nothing in another, so each is checked by itself, with its own configuration.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from recipelang.text.record import Record
from recipelang.workspace.files import CONFIG_NAME, recipe_files, root_of, sees
from recipelang.workspace.report import LocatedFinding, Result, in_order
from recipelang.workspace.source_file import Range


class Group(Record):
    """Paths to be checked at once, and the root of the library whose names they use; None where they are in none."""

    root: Path | None
    paths: list[Path]


def by_library(paths: Sequence[Path], dependents: bool = False) -> list[Group]:
    """Paths in groups. A folder that lies in no library stands for the libraries below it, and for the recipes below it
    that are in none. With `dependents` a path also goes to each library in reach of the current folder that includes it
    from outside: its recipes may rest on it."""
    groups: dict[Path | None, list[Path]] = {}
    users = _users() if dependents else []
    for path in paths:
        root = root_of(Path(os.path.abspath(path)))
        included = [library for library, folder in users if library != root and _is_in(path, folder)]
        for library in dict.fromkeys(included):
            groups.setdefault(library, []).append(path)
        if included and root is None:
            continue
        inner = _libraries_below(path) if root is None and path.is_dir() else []
        if not inner:
            groups.setdefault(root, []).append(path)
            continue
        for library in inner:
            groups.setdefault(Path(os.path.abspath(library)), []).append(library)
        loose = recipe_files(path, inner)
        if loose:
            groups.setdefault(None, []).extend(loose)
    return [Group(root, members) for root, members in groups.items()]


def merged(results: Sequence[Result]) -> Result:
    """The results of several libraries as one, paths counting from the folder that holds them all. The school year is
    told where they share it."""
    if len(results) == 1:
        return results[0]
    base = Path(os.path.commonpath([os.path.abspath(result.root) for result in results]))
    prefixes = [f"{os.path.relpath(os.path.abspath(result.root), base).replace(os.sep, '/')}/" for result in results]
    prefixes = ["" if prefix == "./" else prefix for prefix in prefixes]
    told = [_moved(one, prefix) for result, prefix in zip(results, prefixes, strict=True) for one in result.told]
    paths = [prefix + path for result, prefix in zip(results, prefixes, strict=True) for path in result.paths]
    years = {result.school_year for result in results}
    return Result(
        told=in_order(told),
        files=sum(result.files for result in results),
        declarations=sum(result.declarations for result in results),
        school_year=years.pop() if len(years) == 1 else "",
        root=base,
        paths=tuple(sorted(paths)),
        names=frozenset().union(*(result.names for result in results)),
        is_whole=all(result.is_whole for result in results),
        years=tuple(sorted({year for result in results for year in result.years})),
    )


def _users() -> list[tuple[Path, str]]:
    """Libraries around and below the current folder, each with a folder that it includes."""
    from recipelang.workspace.config import read_config

    around = root_of(Path.cwd())
    libraries = [*([around] if around else []), *(Path(os.path.abspath(one)) for one in _libraries_below(Path(".")))]
    return [
        (library, os.path.abspath(library / name))
        for library in dict.fromkeys(libraries)
        for name in read_config(library).include
    ]


def _is_in(path: Path, folder: str) -> bool:
    return f"{os.path.abspath(path)}{os.sep}".startswith(f"{folder}{os.sep}")


def _libraries_below(folder: Path) -> list[Path]:
    """The outermost folders below one that hold a configuration."""
    found: list[Path] = []
    for base, folders, names in os.walk(folder):
        if CONFIG_NAME in names:
            found.append(Path(base))
            folders.clear()
        folders[:] = sorted(name for name in folders if sees(name))
    return found


def _moved(told: LocatedFinding, prefix: str) -> LocatedFinding:
    """A finding with all its paths below another folder."""

    def moved(place: Range) -> Range:
        return place._replace(path=os.path.normpath(prefix + place.path).replace(os.sep, "/"))

    return told._replace(
        range=moved(told.range),
        related=tuple((moved(place), message) for place, message in told.related),
        fixes=tuple(
            (title, tuple((moved(place), text) for place, text in edits), changes_food)
            for title, edits, changes_food in told.fixes
        ),
    )
