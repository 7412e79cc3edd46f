"""A version of a library as an inventory: what each name means and says. In which file a declaration stands, and how it
is laid out, is no part of it, so what was only moved or laid out anew is the same.

A file is cut into pieces once, however many versions hold it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Set
from hashlib import blake2b

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model.names import Ref, ref_of
from recipelang.syntax.said import Said, said
from recipelang.syntax.split import STRAY, Declaration, fold, split
from recipelang.text.record import Record
from recipelang.text.source import MOST_BYTES, UnreadableText, decode, fold_line_ends
from recipelang.workspace.mentions import has_name
from recipelang.workspace.source_file import File, Outline, home_of

ALL_OF = "* "
"""Before a kind: which menus, or which calendars, there are."""
USERS_OF = "@ "
"""Before a name: which declarations have it in their text."""
ASTRAY = "|"
"""Before the path of a file: what stands in it above its first declaration, and has no name."""


Digests = dict[bytes, bytes]
"""Digests of what declarations say, by digests of how they are written: working out what one says takes ten times as long
as knowing it again."""


class Piece:
    """A declaration of a file, with the text astray behind it, which may have cut it off from its own last lines."""

    __slots__ = ("_declarations", "_digest", "_known", "damaged", "further", "kind", "meant", "name", "ref", "written")

    def __init__(
        self, written: tuple[Declaration, ...], damaged: bool = False, declarations: tuple[Said, ...] | None = None,
        known: Digests | None = None,
    ) -> None:  # fmt: skip
        first = written[0] if declarations is None else declarations[0].declaration
        self.kind = first.kind
        self.name = first.name
        self.ref = "" if first.kind == STRAY else ref_of(first.kind, first.name)
        """Empty for what has no name."""
        self.written = written
        self.damaged = damaged
        """Whether some of its characters can't be read."""
        self.meant = _meant(written) if first.kind == STRAY or len(written) > 1 else ()
        """What the texts astray would be called, were their first words spelled right, and what a food is also called."""
        self.further = first.also_called
        self.meant += tuple(ref_of(first.kind, name) for name in self.further)
        self._declarations = declarations
        self._digest: bytes | None = None
        self._known = known if declarations is None else None

    @property
    def declarations(self) -> tuple[Said, ...]:
        """What it says, and what the text behind it says; worked out when it is asked for."""
        if self._declarations is None:
            self._declarations = tuple(map(said, self.written))
        return self._declarations

    @property
    def main(self) -> Said:
        return self.declarations[0]

    def saying(self, text: str, name: str = "") -> Piece:
        """The same piece with another text for its declaration, laid out like what it says, and perhaps another name."""
        one = self.main
        what = one.declaration
        start = text.find(name, what.header) if name else what.name_start
        made = Declaration(what.kind, name or what.name, text, 0, what.header, start)
        numbers = one.line_numbers if text.count("\n") == what.text.count("\n") else ()
        return Piece(self.written, self.damaged, (Said(one.written, made, numbers), *self.declarations[1:]))

    @property
    def digest(self) -> bytes:
        """A digest of what it says."""
        if self._digest is None:
            if self._known is None:
                self._digest = _digest((one.declaration.kind, one.declaration.text) for one in self.declarations)
                return self._digest
            written = _digest((one.kind, one.text) for one in self.written)
            found = self._known.get(written)
            if found is None:
                found = _digest((one.declaration.kind, one.declaration.text) for one in self.declarations)
                self._known[written] = found
            self._digest = found
        return self._digest


def _digest(texts: Iterable[tuple[str, str]]) -> bytes:
    found = blake2b(digest_size=12)
    for kind, text in texts:
        found.update(f"{kind} {text}\0".encode("utf-8", "surrogatepass"))
    return found.digest()


def _meant(written: tuple[Declaration, ...]) -> tuple[Ref, ...]:
    from recipelang.syntax.messages import meant_as

    found = (meant_as(one) for one in written if one.kind == STRAY)
    return tuple(ref_of(*one) for one in found if one is not None)


class Held(Record):
    """A piece where it stands."""

    path: str
    piece: Piece
    is_supplied: bool = False
    """Whether its folder only supplies names: what it says counts, and nothing is reported of it."""


class FileText(Record):
    """A file of a version: its text, and the pieces it is cut into."""

    text: str
    pieces: tuple[Piece, ...]


def cut(content: bytes, known: Digests | None = None) -> FileText:
    """A file's content as pieces; `known` is asked for digests, and told new ones. Of one that is not UTF-8 the names still count, and the declarations with characters
    that can't be read are marked. Raises UnreadableText for what is no text at all."""
    try:
        text = decode(content)
        damage = ""
    except UnreadableText:
        if len(content) > MOST_BYTES or b"\0" in content or content.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise
        text = fold_line_ends(content.decode("utf-8-sig", "replace"))
        damage = "\ufffd"
    return FileText(text, tuple(_pieces(split(text), damage, known)))


def _pieces(declarations: Iterable[Declaration], damage: str, known: Digests | None) -> Iterator[Piece]:
    waiting: list[Declaration] = []
    for one in declarations:
        if one.kind != STRAY and waiting:
            yield _piece(waiting, damage, known)
            waiting = []
        waiting.append(one)
    if waiting:
        yield _piece(waiting, damage, known)


def _piece(written: list[Declaration], damage: str, known: Digests | None) -> Piece:
    damaged = bool(damage) and any(damage in one.text for one in written)
    return Piece(tuple(written), damaged, known=known)


class Inventory:
    """What each name means: its declarations in the order in which they count, by path and place."""

    __slots__ = ("_came_from", "_digests", "_kinds", "_token", "files", "held", "misspelt")

    def __init__(self, files: Mapping[str, FileText] | None = None, supplied: frozenset[str] = frozenset()) -> None:
        self.files: dict[str, FileText] = dict(files or {})
        self.held: dict[Ref, tuple[Held, ...]] = {}
        self.misspelt: dict[Ref, tuple[Ref, ...]] = {}
        """For names that only text astray would have, or that a food is also called, the names behind which it stands."""
        self._digests: dict[Ref, bytes] = {}
        self._kinds: dict[Ref, bytes] = {}
        self._token = object()
        self._came_from: tuple[object, tuple[Ref, ...]] = (None, ())
        """The inventory that it was made from, and the names that may mean something else since."""
        for path in sorted(self.files):
            for piece in self.files[path].pieces:
                ref = piece.ref or ASTRAY + path
                self.held[ref] = (*self.held.get(ref, ()), Held(path, piece, path in supplied))
        self._note_misspelt(self.held)

    def digest(self, ref: Ref) -> bytes:
        """A digest of what a name means and says; empty for one that nothing has. Of `* menu`, of which menus there are."""
        known = self._digests.get(ref)
        if known is not None:
            return known
        if ref.startswith(ALL_OF):
            found = self._kinds.get(ref, b"")
            if not found:
                names = "\n".join(self.of_kind(ref[len(ALL_OF) :]))
                found = blake2b(names.encode("utf-8", "surrogatepass"), digest_size=12).digest()
                self._kinds[ref] = found
            return found
        if ref.startswith(USERS_OF):
            found = blake2b(
                "\n".join(self._users(ref[len(USERS_OF) :])).encode("utf-8", "surrogatepass"), digest_size=12
            ).digest()
            self._digests[ref] = found
            return found
        held = self.held.get(ref)
        if held is None:
            behind = self.misspelt.get(ref)
            return b"" if behind is None else b"?" + b"".join(map(self.digest, behind))
        if len(held) == 1:
            found = held[0].piece.digest
        else:
            found = blake2b(b"".join(one.piece.digest for one in held), digest_size=12).digest()
        self._digests[ref] = found
        return found

    def with_files(self, changes: Mapping[str, FileText | None], supplied: frozenset[str] = frozenset()) -> Inventory:
        """The inventory after files were changed, added, or taken away (None)."""
        changed = Inventory()
        changed.files = {**self.files}
        refs: dict[Ref, None] = {}
        for path, after in changes.items():
            before = changed.files.pop(path, None)
            for file in (before, after):
                refs.update((piece.ref or ASTRAY + path, None) for piece in (file.pieces if file is not None else ()))
            if after is not None:
                changed.files[path] = after
        added: dict[Ref, list[Held]] = {ref: [] for ref in refs}
        for path, after in changes.items():
            for piece in after.pieces if after is not None else ():
                added[piece.ref or ASTRAY + path].append(Held(path, piece, path in supplied))
        replaced = {
            ref: tuple(
                sorted(
                    [*(one for one in self.held.get(ref, ()) if one.path not in changes), *new],
                    key=lambda one: one.path,
                )
            )
            for ref, new in added.items()
        }
        changed._set(self, replaced)
        return changed

    def with_held(self, replaced: Mapping[Ref, tuple[Held, ...]]) -> Inventory:
        """The inventory with other declarations under some names; none under those that are given none. The files stay
        what they were."""
        changed = Inventory()
        changed.files = self.files
        changed._set(self, replaced)
        return changed

    def _set(self, before: Inventory, replaced: Mapping[Ref, tuple[Held, ...]]) -> None:
        self.held = {**before.held}
        self._digests = {ref: one for ref, one in before._digests.items() if not ref.startswith(USERS_OF)}
        self._came_from = (before._token, tuple(replaced))
        self.misspelt = {}
        for ref, behind in before.misspelt.items():
            left = tuple(one for one in behind if one not in replaced)
            if left:
                self.misspelt[ref] = left
        for ref, held in replaced.items():
            self._digests.pop(ref, None)
            if held:
                self.held[ref] = held
            else:
                self.held.pop(ref, None)
        self._note_misspelt({ref: held for ref, held in replaced.items() if held})

    def _note_misspelt(self, held: Mapping[Ref, tuple[Held, ...]]) -> None:
        for ref, many in held.items():
            for meant in (meant for one in many for meant in one.piece.meant):
                self.misspelt[meant] = tuple(sorted({*self.misspelt.get(meant, ()), ref}))

    def replaced_since(self, before: Inventory) -> Set[Ref] | None:
        """The names that may mean something else, where this inventory was made from the other; else None."""
        token, refs = self._came_from
        return {*refs} if token is before._token else None

    def _users(self, name: str) -> list[Ref]:
        """The names of all declarations that have a name in their text, in order."""
        return sorted(
            ref
            for ref, held in self.held.items()
            if any(has_name(one.declaration, name) for each in held for one in each.piece.declarations)
        )

    def of_kind(self, kind: str) -> list[Ref]:
        """The names of all declarations of a kind, in order."""
        return sorted(ref for ref, held in self.held.items() if held[0].piece.kind == kind)


def changed_refs(older: Inventory, newer: Inventory) -> list[Ref]:
    """The names that mean or say something else in one inventory than in another, in order."""
    refs = newer.replaced_since(older)
    if refs is None:
        refs = older.replaced_since(newer)
    if refs is None:
        refs = older.held.keys() | newer.held.keys()
    changed = [ref for ref in refs if not _is_same(older, newer, ref)]
    astray = older.misspelt.keys() | newer.misspelt.keys()
    changed += [ref for ref in astray - refs if older.digest(ref) != newer.digest(ref)] if astray else []
    return sorted(changed)


def _is_same(older: Inventory, newer: Inventory, ref: Ref) -> bool:
    before, after = older.held.get(ref, ()), newer.held.get(ref, ())
    if len(before) == len(after) and all(one.piece is two.piece for one, two in zip(before, after, strict=True)):
        return True  # the same file's content on both sides: nothing to read
    return older.digest(ref) == newer.digest(ref)


# ---- as files of a workspace, one a name -----------------------------------------------------------------------------

_FOLDER = "="
"""Before a reference: the path of the file that stands for all declarations of the name."""


def file_of(ref: Ref, held: Iterable[Held]) -> File:
    """The declarations of a name as one file, whose path is the name's own, so that no real path gets into a figure."""
    texts: list[str] = []
    outline: list[tuple[str, str, int, int, int, int, tuple[str, ...]]] = []
    start = 0
    for one in held:
        for said_one in one.piece.declarations:
            what = said_one.declaration
            further = what.also_called
            outline.append((what.kind, what.name, start, len(what.text), what.header, what.name_start, further))
            texts.append(what.text)
            start += len(what.text)
    made: Outline = tuple(outline)
    return File(_FOLDER + ref, "".join(texts), made)


def path_of(ref: Ref) -> str:
    return _FOLDER + ref


def ref_at(path: str) -> Ref | None:
    """The name whose declarations a file holds; None for a file of the pantry."""
    return path[len(_FOLDER) :] if path.startswith(_FOLDER) else None


def written_place(inventory: Inventory, place: Place) -> Place | None:
    """Where a place of such a file stands in the library's real files; None where the inventory does not hold it."""
    ref = ref_at(place.home.path)
    if ref is None:
        return place
    seen: dict[str, int] = {}
    for held in inventory.held.get(ref, ()):
        for one in held.piece.declarations:
            key = ASTRAY if one.declaration.kind == STRAY else fold(one.declaration.name)
            nth = seen.get(key, 0)
            seen[key] = nth + 1
            if (key, nth) == (place.home.key, place.home.nth):
                home = home_of(held.path, one.written)
                return Place(home, *one.written_place(place.start, place.end))
    return None


__all__ = [
    "ALL_OF", "ASTRAY", "USERS_OF", "DeclarationId", "FileText", "Held", "Inventory", "Piece", "changed_refs", "cut", "file_of", "path_of",
    "ref_at", "written_place",
]  # fmt: skip
