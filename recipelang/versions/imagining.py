"""A version in which something is imagined: lines, names, whole files of declarations, a price list, another year's rules."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from recipelang.findings.wording import counted
from recipelang.intake.bringing import one_sheet
from recipelang.intake.price_lists import PricedThings, price_changes
from recipelang.intake.reading import read_file, read_sheets
from recipelang.intake.rows import CantBringIn
from recipelang.model.names import Ref, ref_of
from recipelang.syntax.split import STRAY, split
from recipelang.text.record import Record
from recipelang.text.source import LOST, UnreadableText, decode
from recipelang.versions.imagined import IMAGINED, CantImagine, swap_of, with_lines, with_swap
from recipelang.versions.inventory import Inventory
from recipelang.versions.sources import Reader, Version
from recipelang.workspace.files import read_bytes, recipe_files

_MOST_NOTES: Final = 10
"""Rows of a price list that are said to be left alone; of more there is only their number."""


class Asked(Record):
    """What is to be imagined, as it stands on a command line."""

    lines: tuple[str, ...] = ()
    swaps: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    prices: tuple[str, ...] = ()
    school_year: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        """All of it, a text each."""
        return (
            *self.lines, *self.swaps, *(f"with {one}" for one in self.files), *(f"prices of {one}" for one in self.prices),
            *([f"the rules of {self.school_year}"] if self.school_year else []),
        )  # fmt: skip


class Imagined(Record):
    version: Version
    refs: frozenset[Ref]
    """Declarations that say something else than they do."""
    joined: dict[Ref, Ref]
    """For declarations in which one name stands for another, the change that this is."""
    texts: dict[str, str]
    """Files as they would be, by path."""


def imagine(reader: Reader, version: Version, asked: Asked) -> Imagined:
    """A version with what is asked for. Raises CantImagine with the sentence that says why not."""
    texts: dict[str, str] = {}
    refs: set[Ref] = set()
    joined: dict[Ref, Ref] = {}
    notes = list(version.notes)
    current = version
    for name in asked.files:
        texts, replaced, note = _with_files(current, texts, name)
        refs |= replaced
        notes.append(note)
        current = _made(reader, version, texts)
    for path in asked.prices:
        texts, priced, left = _with_prices(current, texts, path)
        refs |= priced
        notes += left
        current = _made(reader, version, texts)
    for words in asked.swaps:
        swap = swap_of(current.inventory, words)
        swapped = with_swap(current, texts, swap)
        texts = swapped.texts
        joined.update(dict.fromkeys(swapped.refs, f"={swap.new} instead of {swap.old}"))
        refs |= swapped.refs
        current = _made(reader, version, texts)
    for words in asked.lines:
        edited = with_lines(current, texts, words)
        texts = edited.texts
        refs |= edited.refs
        current = _made(reader, version, texts)
    origin = (("imagined", asked.words),)
    label = (
        f"{version.label} with {asked.words[0] if len(asked.words) == 1 else f'{len(asked.words)} changes'} (imagined)"
    )
    year = asked.school_year or version.asked_year
    made = current._replace(label=label, origin=origin, asked_year=year, notes=tuple(notes))
    return Imagined(made, frozenset(refs), joined, texts)


def written(root: Path, made: Imagined) -> dict[Path, bytes]:
    """What the files of a library would hold, each with its own line ends and byte-order mark. Raises CantImagine where
    something stands in no file of it."""
    if IMAGINED in made.texts:
        raise CantImagine("foods of the built-in pantry can't be written; declare them in the library first")
    found: dict[Path, bytes] = {}
    for name, text in made.texts.items():
        path = root / name
        try:
            before = path.read_bytes()
        except OSError as error:
            raise CantImagine(f"{name} can't be written: {(error.strerror or 'unknown reason').lower()}") from None
        if LOST in before.decode("utf-8", "replace"):
            raise CantImagine(f"{name} is not UTF-8 in every line, and would lose them; save it as UTF-8 first")
        after = text.replace("\n", "\r\n") if b"\r\n" in before else text
        mark = b"\xef\xbb\xbf" if before.startswith(b"\xef\xbb\xbf") else b""
        content = mark + after.encode("utf-8")
        if content != before:
            found[path] = content
    return found


def _made(reader: Reader, version: Version, texts: dict[str, str]) -> Version:
    return reader.with_contents(
        version, {path: text.encode("utf-8", "surrogatepass") for path, text in texts.items()}, ""
    )


# ---- files -----------------------------------------------------------------------------------------------------------


def _with_files(version: Version, texts: dict[str, str], name: str) -> tuple[dict[str, str], set[Ref], str]:
    """The declarations of a file or folder in the place of those so called; what is not, beside them."""
    folder = Path(name)
    paths = recipe_files(folder) if folder.is_dir() else [folder]
    if not paths:
        raise CantImagine(f"there is no recipe file in {name}")
    made = dict(texts)
    refs: set[Ref] = set()
    for path in paths:
        try:
            text = decode(read_bytes(path))
        except UnreadableText as error:
            raise CantImagine(f"{path} can't be read: {error}") from None
        refs |= {ref_of(one.kind, one.name) for one in split(text) if one.kind != STRAY and one.name}
        made[os.path.normpath(path)] = text
    known = {ref for ref in refs if ref in version.inventory.held}
    for ref in known:
        for held in version.inventory.held[ref]:
            if held.path not in {os.path.normpath(path) for path in paths}:
                made[held.path] = _without(version.inventory, made, held.path, ref)
    count = counted(len(refs), "declaration")
    if not known:
        return made, refs, f"{name}: none of its {count} replaces one; {len(refs)} are new"
    return made, refs, f"{name}: {len(known)} of its {count} replace one, {len(refs) - len(known)} are new"


def _without(inventory: Inventory, texts: dict[str, str], path: str, ref: Ref) -> str:
    """A file without a declaration; blank lines stand for it, so that the others stay where they are."""
    text = texts.get(path)
    if text is None:
        text = inventory.files[path].text
    for one in reversed(split(text)):
        if one.kind != STRAY and ref_of(one.kind, one.name) == ref:
            text = text[: one.start] + "\n" * one.text.count("\n") + text[one.start + len(one.text) :]
    return text


# ---- prices ----------------------------------------------------------------------------------------------------------


def _with_prices(version: Version, texts: dict[str, str], name: str) -> tuple[dict[str, str], set[Ref], list[str]]:
    """The files with the prices of a list; only the number of a `price` line changes."""
    whole = {path: file.text for path, file in version.inventory.files.items()} | texts
    try:
        sheets = read_sheets(name, read_file(Path(name)))
        found = price_changes(one_sheet(sheets, ""), PricedThings(whole))
    except CantBringIn as error:
        raise CantImagine(f"{name}: {error}") from None
    made = dict(texts)
    for edit in reversed(found.edits):
        text = made.get(edit.path, whole[edit.path])
        made[edit.path] = text[: edit.start] + edit.text + text[edit.end :]
    notes = [f"{row.place.text}: {row.why}" for row in found.unmatched[:_MOST_NOTES]]
    if len(found.unmatched) > _MOST_NOTES:
        notes.append(f"and {len(found.unmatched) - _MOST_NOTES} more rows that could not be used")
    return made, {edit.ref for edit in found.edits}, [*notes, *found.notes]


__all__ = ["Asked", "CantImagine", "Imagined", "imagine", "written"]
