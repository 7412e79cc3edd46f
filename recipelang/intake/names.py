"""Printed names of foods as names of the notation: by the library and the pantry where they are exact, else as printed.

A near name is proposed and never taken. Nothing that stands behind a comma or in brackets may make a food out to be
another one that is safer: where it names an allergen, or says raw, the whole text is the name.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.findings.nearest import nearest, sharing_words
from recipelang.intake.rows import one_line
from recipelang.model.allergen_words import allergens_in_name
from recipelang.syntax.split import fold, name_problem
from recipelang.text.record import Record

_PARTS: Final = re.compile(r"\s*[(\[{]([^()\[\]{}]*)[)\]}]\s*|\s*[,;|]\s*")
_BAD: Final = re.compile(r'[,;()\[\]{}=|"]+|//+')
_BULLET: Final = re.compile(r"^(?:[*•·▪◦†‡]+|[-–—](?=\s))\s*|\s*[*†‡]+$")
_RAW: Final = re.compile(r"\b(?:raw|uncooked|unpasteurized|undercooked|rare|unbaked|parcooked)\b", re.IGNORECASE)
_KEPT_CASE: Final = re.compile(r"^(?:[^\W\d_][^A-Z]*|[A-Z\W\d_]+)$")


class Named(Record):
    name: str
    notes: tuple[str, ...] = ()
    """What stood behind a comma or in brackets: how it is prepared."""
    reasons: tuple[str, ...] = ()
    is_known: bool = False


class Names:
    """The names that mean a food or a recipe, as they are written: those of the library, then those of the pantry."""

    def __init__(self, own: Iterable[str], built_in: Iterable[str] = ()) -> None:
        self._spelled: dict[str, str] = {}
        for name in own:
            self._spelled.setdefault(fold(name), name)
        self._own = set(self._spelled)
        for name in built_in:
            self._spelled.setdefault(fold(name), name)
        self._near: dict[str, str] = {}

    def spelling(self, name: str) -> str:
        """A name as its declaration writes it; empty where nothing is called so."""
        return self._spelled.get(fold(name), "")

    def near(self, name: str) -> str:
        """The name that is nearest to one that nothing has; empty where none is near."""
        key = fold(name)
        if key not in self._near:
            found = nearest(key, self._spelled, 1) or sharing_words(key, self._spelled, 1)
            self._near[key] = self._spelled[found[0]] if found else ""
        return self._near[key]

    def add(self, name: str) -> None:
        """A name that something brought in has."""
        self._spelled.setdefault(fold(name), name)
        self._own.add(fold(name))

    def free(self, name: str, hides: bool = False) -> str:
        """A name that nothing has yet: itself, else with a number behind it. `hides` lets it be one of the pantry's."""
        taken = self._own if hides else self._spelled
        number = 1
        while fold(name if number == 1 else f"{name} {number}") in taken:
            number += 1
        return name if number == 1 else f"{name} {number}"


def name_of(printed: str, names: Names, form: str = "") -> Named:
    """What a printed name means; `form` is what another cell says of how the food is prepared."""
    text = without_bullet(printed)
    notes = tuple(note for note in map(_note, form.split(",")) if note)
    known = names.spelling(text)
    if known:
        return _unless_other(Named(known, notes, (), True), text, form)
    pieces = [piece for piece in map(one_line, _PARTS.sub("\0", _bracketed(text)).split("\0")) if piece]
    head = pieces[0] if pieces else ""
    whole = clean_name(" ".join(pieces))
    behind = tuple(note for note in map(_note, pieces[1:]) if note)
    known = names.spelling(head)
    if known:
        return _unless_other(Named(known, (*behind, *notes), (), True), f"{whole} {form}", form)
    if name_problem(clean_name(head)):
        return Named(
            _some_name(whole), notes, (f"`{printed}` can't be a name",) if printed else ("no name stood there",)
        )
    near = names.spelling(whole) or names.near(head)
    reasons = (f"nothing is called `{clean_name(head)}`; perhaps `{near}` is meant",) if near else ()
    return _unless_other(Named(clean_name(head), (*behind, *notes), reasons), f"{whole} {form}", form)


def without_bullet(text: str) -> str:
    """A text without the sign that lists it, and without the star that leads to a footnote."""
    return _BULLET.sub("", one_line(text))


def clean_name(text: str) -> str:
    """A text without what no name can hold, in small letters where its capitals say nothing."""
    name = one_line(_BAD.sub(" ", text))
    words = name.split()
    if name.isupper() or all(_KEPT_CASE.match(word) for word in words):
        return (
            name.casefold() if not any(word.isupper() and len(word) > 1 for word in words) or name.isupper() else name
        )
    return name


def _bracketed(text: str) -> str:
    """A text whose brackets end pieces: `beef (15% fat) raw` has three."""
    return re.sub(r"[(\[{]([^()\[\]{}]*)[)\]}]", r",\1,", text)


def _unless_other(found: Named, whole: str, form: str) -> Named:
    """A name with its notes, unless they say that it is another food, which may hold what the name does not."""
    said = " ".join((*found.notes, form))
    held = {allergen for allergen, _ in allergens_in_name(found.name)}
    more = [word for allergen, word in allergens_in_name(f"{found.name} {said}") if allergen not in held]
    more += [word for allergen, word in allergens_in_name(said) if allergen not in held and word not in more]
    raw = _RAW.search(said)
    if more or (raw and not _RAW.search(found.name) and found.is_known):
        word = more[0] if more else raw[0] if raw else ""
        name = clean_name(f"{found.name} {said}")
        name = name if not name_problem(name) else _some_name(whole)
        return Named(name, (), (*found.reasons, f"`{word}` may make it another food than {found.name}"))
    return found


def _note(text: str) -> str:
    """A preparation note: no comma, nothing that opens a comment."""
    return one_line(re.sub(r"[,|]+", " ", text).replace("//", "/ /"))


def _some_name(text: str) -> str:
    """A name for what has none that can be written. Nothing is called so: what it holds stays unknown."""
    words = re.sub(r"[^\w' -]+", " ", text)
    return one_line(f"unread ingredient {words}".replace("_", " ")).strip()
