"""What was found last time, kept so that only what changed is looked at again.

Kept are findings and outlines, never trees: a pickled tree loads slower than it parses. A store belongs to one root, one
school year, and one state of the tool; in it every file is known by a digest of its bytes, and every declaration by its
findings and by what they rest on (`dependencies.py`). So what it says can only be used where everything that was read
is the same. It is written beside and renamed, carries its own digest, and a damaged one is as good as none.
"""

from __future__ import annotations

import contextlib
import marshal
import os
import sys
import tempfile
from pathlib import Path
from typing import Any, Final

from recipelang.findings.finding import DeclarationId, Edit, Figure, Finding, Fix, Place, Related
from recipelang.syntax.split import Declaration
from recipelang.text.cache_folder import cache_folder
from recipelang.text.record import Record
from recipelang.workspace.dependencies import Node
from recipelang.workspace.disk import digest
from recipelang.workspace.fingerprint import fingerprint
from recipelang.workspace.source_file import Outline

_MAGIC: Final = b"recipelang-store-2\n"


class CachedDeclaration(Record):
    """A declaration by its folded name and which of several it is, and what was found in it."""

    key: str
    nth: int
    says: bytes
    """A digest of what it says."""
    findings: tuple[Any, ...] | None = None
    """None where nobody has looked at it."""
    node: str = ""
    """The node of its findings; empty where they rest on nothing but `reads`."""
    reads: tuple[str, ...] = ()
    """Inputs that its findings rest on beside that node."""


class Cache(Record):
    config: bytes
    """Digest of the configuration file."""
    include: tuple[str, ...]
    exclude: tuple[str, ...]
    school_year: str
    """The year whose rules were used."""
    general: tuple[Any, ...]
    """Findings about no file: the configuration's."""
    digests: dict[str, bytes]
    outlines: dict[str, Outline]
    kept: dict[str, tuple[CachedDeclaration, ...]]
    """For each file its declarations in order."""
    nodes: dict[str, Node]
    """What the findings rest on."""
    reads_always: bool
    """Whether any of them rests on what is read anew every time."""


def digest_of(one: Declaration) -> bytes:
    """A digest of what a declaration says."""
    return digest(f"{one.kind} {one.text}".encode("utf-8", "surrogatepass"))


def load(root: Path, year: str) -> Cache | None:
    """The store of a root and school year, None where there is none that can be used."""
    try:
        data = _path(root, year).read_bytes()
    except OSError:
        return None
    if not data.startswith(_MAGIC):
        return None
    head = len(_MAGIC)
    payload = data[head + 16 :]
    if digest(payload) != data[head : head + 16]:
        return None
    try:
        mark, *fields = marshal.loads(payload)
        if mark != fingerprint():
            return None
        store = Cache(*fields)
        kept = {path: tuple(CachedDeclaration(*one) for one in many) for path, many in store.kept.items()}
        return store._replace(kept=kept, nodes={name: Node(*node) for name, node in store.nodes.items()})
    except (ValueError, EOFError, TypeError):
        return None


def save(root: Path, year: str, store: Cache) -> None:
    """Writes a store beside and renames it; does nothing where it can't."""
    plain = store._replace(
        kept={path: tuple(tuple(one) for one in many) for path, many in store.kept.items()},  # type: ignore[misc]
        nodes={name: tuple(node) for name, node in store.nodes.items()},  # type: ignore[misc]
    )
    payload = marshal.dumps((fingerprint(), *plain))
    path = _path(root, year)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(_MAGIC + digest(payload) + payload)
            os.replace(name, path)
        except OSError:
            with contextlib.suppress(OSError):
                os.unlink(name)


def _path(root: Path, year: str) -> Path:
    name = digest(f"{root}\n{year}\n{sys.version_info[:2]}".encode()).hex()
    return cache_folder() / "checks" / f"{name}.store"


# ---- findings as plain tuples ----------------------------------------------------------------------------------------


def pack(finding: Finding) -> tuple[Any, ...]:
    """A finding as tuples of texts and numbers."""
    return (
        finding.rule, finding.severity, _pack_place(finding.place), finding.message,
        tuple(tuple(figure) for figure in finding.figures), finding.source, finding.help,
        tuple((_pack_place(one.place), one.message) for one in finding.related),
        tuple(
            (fix.title, tuple((_pack_place(edit.place), edit.text) for edit in fix.edits), fix.changes_food)
            for fix in finding.fixes
        ),
    )  # fmt: skip


def unpack(data: tuple[Any, ...]) -> Finding:
    """The finding that was packed."""
    rule, severity, place, message, figures, source, help, related, fixes = data
    return Finding(
        rule=rule,
        severity=severity,
        place=_place(place),
        message=message,
        figures=tuple(Figure(*figure) for figure in figures),
        source=source,
        help=help,
        related=tuple(Related(_place(one), text) for one, text in related),
        fixes=tuple(
            Fix(title, tuple(Edit(_place(one), text) for one, text in edits), food) for title, edits, food in fixes
        ),
    )


def _pack_place(place: Place) -> tuple[Any, ...]:
    return (tuple(place.home), place.start, place.end)


def _place(data: tuple[Any, ...]) -> Place:
    home, start, end = data
    return Place(DeclarationId(*home), start, end)
