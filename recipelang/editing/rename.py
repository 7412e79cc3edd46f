"""Renaming: every place of a name gets another one, and nothing means anything else than before.

A new name is refused where the notation can't hold it, where something has it, and where a name that stands somewhere
would come to mean what is renamed. Each declaration that is touched is read again and must say the same but for the name.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from typing import Final

from recipelang.editing.references import Names, Site, Symbol, sites_named, sites_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.name_occurrences import mentions_in, steps_in
from recipelang.model.names import SPACES
from recipelang.pantry import pantry
from recipelang.syntax.parser import parse
from recipelang.syntax.split import Declaration, fold, name_problem, split
from recipelang.workspace.source_file import Range
from recipelang.workspace.workspace import Workspace

_BRACKETED: Final = re.compile(r"\[[^\]]*\]")


class CantRename(ValueError):
    """Says in one sentence why a name stays what it is."""


def check_renamable(workspace: Workspace, site: Site, is_supplied: bool = False) -> Symbol:
    """What a name means, where it can be renamed at all. Raises CantRename. With `is_supplied` it is renamed where it is
    declared as well, outside of the library."""
    symbol = site.symbol
    if symbol is None:
        raise CantRename(f"Nothing is called `{site.key}`; there is nothing to rename.")
    if symbol.is_built_in:
        raise CantRename(f"`{symbol.key}` is a food of the built-in pantry, whose names are fixed.")
    if symbol.within is not None:
        homes: tuple[DeclarationId, ...] = (symbol.within,)
    else:
        homes = workspace.homes(symbol.ref)
        if not homes:
            raise CantRename(f"The line that declares `{symbol.key}` can't be read; fix it first.")
        if len(homes) > 1:
            raise CantRename(f"Several declarations are called `{symbol.key}`; which is meant can't be told.")
    if homes[0].path in workspace.supplying and not is_supplied:
        raise CantRename(f"`{symbol.key}` stands in {homes[0].path}, which only supplies names; rename it there.")
    return symbol


def rename(workspace: Workspace, site: Site, name: str, is_supplied: bool = False) -> list[tuple[Range, str]]:
    """The edits that give what a site means another name. Raises CantRename."""
    symbol = check_renamable(workspace, site, is_supplied)
    name = " ".join(name.split())
    problem = name_problem(name)
    if problem is not None:
        raise CantRename(f"That is no name: {problem}.")
    # what is renamed is the name that stands there: the food's own, or one that it is also called
    sites = [one for one in sites_of(workspace, symbol) if one.key == site.key]
    key = fold(name)
    if key != site.key:
        _check_free(workspace, symbol, key)
        _check_unmeant(workspace, sites, key)
    places = {(one.home, one.start, one.end) for one in sites}
    if site.key != key:
        places.update(_in_prose(workspace, site.key, sites))
    _check_reads(workspace, places, name)
    files = workspace.files
    edits = [
        (Range(home.path, files[home.path].lines.position(start), files[home.path].lines.position(end)), name)
        for home, start, end in places
    ]
    return sorted(edits)


# ---- what the new name may not be ------------------------------------------------------------------------------------


def _check_free(workspace: Workspace, symbol: Symbol, key: str) -> None:
    """Refuses a name that something has."""
    if symbol.within is not None:
        return  # what it may collide with stands in the recipe, and is looked for there
    space = next((space for space in SPACES.values() if symbol.ref.startswith(space)), "")
    declared = workspace.declared(space + key)
    if declared is not None:
        if declared.is_further:
            raise CantRename(f"`{declared.name}` is also called `{key}`.")
        raise CantRename(f"A {declared.kind} is called `{declared.name}` already.")
    if pantry().declared(space + key) is not None:
        raise CantRename(f"A food of the built-in pantry is called `{key}`; it would be hidden.")


def _check_unmeant(workspace: Workspace, sites: list[Site], key: str) -> None:
    """Refuses a name that stands where it would come to mean something else, or that nothing has yet."""
    touched = {site.home for site in sites}
    for other in sites_named(workspace, key):
        if other.symbol is None or other.home in touched or _is_kin(workspace, other.home, touched):
            raise CantRename(f"`{key}` stands in `{other.home.key}` already, and would come to mean something else.")


def _is_kin(workspace: Workspace, home: DeclarationId, others: Iterable[DeclarationId]) -> bool:
    """Whether a declaration is based on one of some others, or one of them on it."""
    chain = {one for one, _ in Names(workspace, home, workspace.body(home)).chain}
    return any(
        other in chain or home in {one for one, _ in Names(workspace, other, workspace.body(other)).chain}
        for other in others
    )


# ---- prose -----------------------------------------------------------------------------------------------------------


def _in_prose(workspace: Workspace, key: str, sites: list[Site]) -> Iterator[tuple[DeclarationId, int, int]]:
    """Where a step names an ingredient without brackets, in recipes that put it into none: that is read as its use."""
    words = r"[ \t]+".join(map(re.escape, key.split()))
    pattern = re.compile(rf"(?<![\w-]){words}(?![\w-])", re.IGNORECASE)
    for home in dict.fromkeys(site.home for site in sites):
        start = workspace.files[home.path].by_home[home].start
        steps = list(steps_in(workspace.body(home)))
        bracketed = {fold(one.name.text) for step in steps for one in step.references}
        if key in bracketed:
            continue
        for step in steps:
            prose = _BRACKETED.sub(lambda match: "|" * len(match[0]), step.text.text)
            for match in pattern.finditer(prose):
                at = start + step.text.start
                yield home, at + match.start(), at + match.end()


# ---- reading again ---------------------------------------------------------------------------------------------------


def _check_reads(workspace: Workspace, places: set[tuple[DeclarationId, int, int]], name: str) -> None:
    """Refuses a name with which a declaration would be read otherwise than with the old one."""
    for home in {home for home, _, _ in places}:
        before = workspace.files[home.path].by_home[home]
        mine = {(start - before.start, end - before.start) for one, start, end in places if one == home}
        text = before.text
        for start, end in sorted(mine, reverse=True):
            text = text[:start] + name + text[end:]
        after = split(text)
        if len(after) != 1 or _said(before, mine, fold(name)) != _said(after[0]):
            raise CantRename(f"With that name, `{before.name}` would be read in another way.")


def _said(declaration: Declaration, renamed: Collection[tuple[int, int]] = (), new: str = "") -> object:
    """What a declaration says, as far as a name could change it; names at places to be renamed as they will be."""
    body = parse(declaration)
    names = [(one.role, new if (one.start, one.end) in renamed else one.key) for one in mentions_in(body)]
    header = (declaration.name_start, declaration.name_end)
    key = new if header in renamed else declaration.key
    problems = [problem.rule for problem in body.problems]
    return declaration.kind, key, names, [type(line) for line in body.lines], problems, body.broken
