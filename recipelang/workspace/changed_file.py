"""What a file that is not what it was last time says anew, of which names and to whom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from recipelang.findings.finding import DeclarationId
from recipelang.workspace.cache import Cache, CachedDeclaration, digest_of
from recipelang.workspace.dependencies import Node, reads_kind, reads_name, reads_text, users_read
from recipelang.workspace.source_file import File

if TYPE_CHECKING:
    from recipelang.syntax.split import Declaration


def unchanged(file: File, before: tuple[CachedDeclaration, ...]) -> dict[tuple[str, int], CachedDeclaration]:
    """The declarations of a changed file that say what they said."""
    known = {(one.key, one.nth): one for one in before}
    found: dict[tuple[str, int], CachedDeclaration] = {}
    for home, one in file.by_home.items():
        kept = known.get((home.key, home.nth))
        if kept is not None and kept.says == digest_of(one):
            found[home.key, home.nth] = kept
    return found


def said_anew(path: str, file: File | None, store: Cache) -> set[str]:
    """The names and texts of a changed file that are no more, are new, or say something else."""
    from recipelang.model.names import ref_of
    from recipelang.workspace.name_index import misspelt_refs

    before = store.kept.get(path, ())
    same = {} if file is None else unchanged(file, before)
    said: set[str] = set()
    for outline, kept in zip(store.outlines.get(path, ()), before, strict=True):
        if (kept.key, kept.nth) not in same:
            said.update(reads_name(ref_of(outline[0], name)) for name in (outline[1], *outline[-1]))
            said.add(reads_kind(outline[0]))
            said.add(reads_text(DeclarationId(path, kept.key, kept.nth)))
    if file is not None:
        said.update(map(reads_name, misspelt_refs(file)))
        for home, one in file.by_home.items():
            if (home.key, home.nth) not in same:
                said.update(reads_name(ref_of(one.kind, name)) for name in (one.name, *one.also_called))
                said.add(reads_kind(one.kind))
                said.add(reads_text(home))
    return said


def other_users(path: str, file: File | None, store: Cache) -> set[str]:
    """The dependencies on who has a name in their text that a changed file is or was part of."""
    before = store.kept.get(path, ())
    same = {} if file is None else unchanged(file, before)
    outlines = store.outlines.get(path, ())
    gone = {
        (outline[0], outline[1]): None
        for outline, kept in zip(outlines, before, strict=True)
        if (kept.key, kept.nth) not in same
    }
    fresh = () if file is None else [one for home, one in file.by_home.items() if (home.key, home.nth) not in same]
    return naming(store.nodes, gone, fresh)


def naming(nodes: Mapping[str, Node], gone: Iterable[tuple[str, str]], declarations: Iterable[Declaration]) -> set[str]:
    """The dependencies on who has a name in their text that speak of names that declarations have in theirs, or of
    declarations that are gone, by kind and name."""
    from recipelang.model.names import ref_of
    from recipelang.workspace.mentions import has_name

    reads = {read for node in nodes.values() for read in node.inputs if users_read(read) is not None}
    if not reads:
        return reads
    refs = {ref_of(*one) for one in gone}
    written = list(declarations)
    found: set[str] = set()
    for read in reads:
        name, users = users_read(read) or ("", [])
        if not refs.isdisjoint(users) or any(has_name(one, name) for one in written):
            found.add(read)
    return found
