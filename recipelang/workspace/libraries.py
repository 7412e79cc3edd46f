"""Paths of several libraries: which belong together, and one result made of several.

A name of one library means nothing in another, so each is checked by itself, with its own configuration.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from recipelang.workspace.files import CONFIG_NAME, recipe_files, root_of, sees
from recipelang.workspace.filing import Range
from recipelang.workspace.report import Result, Told, in_order


def by_library(paths: Sequence[Path]) -> list[list[Path]]:
    """Paths in groups, each to be checked at once. A folder that lies in no library stands for the libraries below it,
    and for the recipes below it that are in none."""
    groups: dict[Path | None, list[Path]] = {}
    for path in paths:
        root = root_of(Path(os.path.abspath(path)))
        inner = _libraries_below(path) if root is None and path.is_dir() else []
        if not inner:
            groups.setdefault(root, []).append(path)
            continue
        for library in inner:
            groups.setdefault(Path(os.path.abspath(library)), []).append(library)
        loose = recipe_files(path, inner)
        if loose:
            groups.setdefault(None, []).extend(loose)
    return list(groups.values())


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
        in_order(told), sum(result.files for result in results), sum(result.declarations for result in results),
        years.pop() if len(years) == 1 else "", base, tuple(sorted(paths)),
        frozenset().union(*(result.names for result in results)), all(result.is_whole for result in results),
    )  # fmt: skip


def _libraries_below(folder: Path) -> list[Path]:
    """The outermost folders below one that hold a configuration."""
    found: list[Path] = []
    for base, folders, names in os.walk(folder):
        if CONFIG_NAME in names:
            found.append(Path(base))
            folders.clear()
        folders[:] = sorted(name for name in folders if sees(name))
    return found


def _moved(told: Told, prefix: str) -> Told:
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
