"""The words of `kitchen_words.toml`, and names read by them: what a name is of, how it comes, is cut and is made."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from recipelang.findings.nearest import MOST_LETTERS, distance
from recipelang.text.record import Record

Said = tuple[tuple[str, str], ...]
"""What a phrase says: facets with their words; an empty facet is the kind."""
Phrases = Mapping[tuple[str, ...], Said]

_TABLES: Final = ("preserved", "cooked", "cut", "drained", "made", "besides")
FACETS: Final = (*_TABLES, "size")
"""What a name may say beside its kind."""
_WORD: Final = re.compile(r"\d+(?:\.\d+)?%|\d+/\d+|#?\d+(?:\.\d+)?|[^\W\d_]+(?:'[^\W\d_]+)?")
_BLEND: Final = re.compile(r"\d\d/\d{1,2}")
_MOST_WORDS: Final = 24
"""No name of a food is half as long; a longer text is none."""


class Words(Record):
    """A name as a set of words, sorted by what they say."""

    kind: frozenset[str]
    """What it is of."""
    facets: Mapping[str, frozenset[str]]
    corrected: int = 0
    """How many words were spelled otherwise."""

    def of(self, facet: str) -> frozenset[str]:
        return self.facets.get(facet, frozenset())


class _Table(Record):
    said: Phrases
    longest: Mapping[str, int]
    """By the first word of phrases, how many words the longest has."""
    apart: Mapping[str, tuple[tuple[str, ...], ...]]
    """By word, the phrases of several that it is in."""
    bare: Mapping[frozenset[str], tuple[str, ...]]
    near: frozenset[tuple[str, str]]
    vocabulary: frozenset[str]


def stem(word: str) -> str:
    """A word in the singular."""
    if len(word) <= 3 or word.endswith(("ss", "us", "is")):
        return word
    if word in ("chilies", "chillies"):
        return "chili"
    if word.endswith(("halves", "leaves", "loaves")):
        return word[:-3] + "f"
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes", "sses", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") else word


@lru_cache(maxsize=4096)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a text in the singular, accents and case folded."""
    plain = text.casefold()
    if not plain.isascii():
        parts = unicodedata.normalize("NFKD", plain.replace("’", "'"))
        plain = "".join(letter for letter in parts if not unicodedata.combining(letter))
    return tuple(stem(word.removesuffix("'s")) for word in _WORD.findall(plain))


def bare_meanings(kind: frozenset[str]) -> tuple[str, ...]:
    """What a bare word means most often, as pantry names; none for one that says enough."""
    return _table().bare.get(kind, ())


def is_kitchen_word(word: str) -> bool:
    """Whether the table has a word, in the singular."""
    return word in _table().vocabulary


def is_near(one: str, other: str) -> bool:
    """Whether two words of a facet are near each other: reduced-fat and light."""
    near = _table().near
    return (one, other) in near or (other, one) in near


# ---- the table -------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def _table() -> _Table:
    data: dict[str, Any] = tomllib.loads((Path(__file__).parent / "kitchen_words.toml").read_text(encoding="utf-8"))
    said = _said(data)
    longest: dict[str, int] = {}
    apart: dict[str, list[tuple[str, ...]]] = {}
    for phrase in said:
        longest[phrase[0]] = max(longest.get(phrase[0], 0), len(phrase))
        if len(phrase) > 1 and any(not facet for facet, _ in said[phrase]):
            for word in set(phrase):
                apart.setdefault(word, []).append(phrase)
    vocabulary = {word for phrase in data["elsewhere"]["words"] for word in words_of(phrase)}
    vocabulary.update(word for phrase in said for word in phrase)
    vocabulary.update(token for tokens in said.values() for facet, token in tokens if not facet)
    return _Table(
        said,
        longest,
        {word: tuple(many) for word, many in apart.items()},
        {_bare_kind(bare, said): tuple(meant) for bare, meant in data["bare"].items()},
        frozenset((word, other) for word, others in data["near"].items() for other in others),
        frozenset(vocabulary),
    )


def _said(data: Mapping[str, Any]) -> Phrases:
    """What every phrase of the table says."""
    said: dict[tuple[str, ...], Said] = {}
    facet_of: dict[str, str] = {}
    for facet in _TABLES:
        for word, phrases in data[facet].items():
            facet_of[word] = facet
            for phrase in phrases:
                said[words_of(phrase)] = ((facet, word),)
    for phrase in data["ignored"]["words"]:
        said.setdefault(words_of(phrase), ())
    single = {phrase[0]: tokens for phrase, tokens in said.items() if len(phrase) == 1}
    for phrase, meant in data["means"].items():
        said[words_of(phrase)] = tuple(one for token in meant.split() for one in _tokens(token, facet_of, single))
    return said


def _tokens(token: str, facet_of: Mapping[str, str], single: Mapping[str, Said]) -> Iterator[tuple[str, str]]:
    """What one word of a meaning says: `_` holds together what is one word of a kind."""
    if token in facet_of:
        yield facet_of[token], token
    elif "_" in token:
        yield "", token
    else:
        for word in words_of(token):
            yield from single.get(word, (("", word),))


def _bare_kind(text: str, said: Phrases) -> frozenset[str]:
    words = words_of(text)
    return frozenset(word for facet, word in said.get(words, tuple(("", word) for word in words)) if not facet)


# ---- reading a name --------------------------------------------------------------------------------------------------


def read_words(text: str, known: frozenset[str] = frozenset()) -> Words:
    """A name as words. `known` are the words that names have, by which a misspelled word is told from an unknown one;
    where none are given, every word counts as it stands."""
    table = _table()
    written = words_of(text)[:_MOST_WORDS]
    words = tuple(_spelled(word, known, table) for word in written) if known else written
    facets: dict[str, set[str]] = {}
    kind: list[str] = []
    at = 0
    while at < len(words):
        for length in range(min(table.longest.get(words[at], 0), len(words) - at), 0, -1):
            tokens = table.said.get(words[at : at + length])
            if tokens is not None:
                _take(tokens, kind, facets)
                at += length
                break
        else:
            _take([_plain(words[at])], kind, facets)
            at += 1
    _by_sets(table, kind, facets)
    if facets.get("cut", set()) - {"whole"}:
        facets["cut"].discard("whole")
    strange = {word for word in kind if known and word not in known and word not in table.vocabulary}
    # what a hand does (`reconstituted`), and what is short for a place, says nothing of the kind
    dropped = {word for word in strange if len(word) < 3 or word.endswith(("ed", "ing", "ly"))}
    corrected = sum(one != other for one, other in zip(words, written, strict=True))
    return Words(
        frozenset(kind) - dropped, {one: frozenset(found) for one, found in facets.items() if found}, corrected
    )


def _plain(word: str) -> tuple[str, str]:
    """A word that no table has: a size, or what the food is of. `80/20` is what ground beef is called by."""
    if not word[-1].isdigit() or (_BLEND.fullmatch(word) and sum(map(int, word.split("/"))) == 100):
        return "", word
    return "size", word.lstrip("#")


def _take(tokens: Iterable[tuple[str, str]], kind: list[str], facets: dict[str, set[str]]) -> None:
    for facet, token in tokens:
        if facet:
            facets.setdefault(facet, set()).add(token)
        elif token not in kind:
            kind.append(token)


def _by_sets(table: _Table, kind: list[str], facets: dict[str, set[str]]) -> None:
    """Names of several words whose words stand apart: `cheese, cheddar, shredded` has `cheddar cheese` in it."""
    if len(kind) < 2:
        return
    phrases = {phrase for word in kind for phrase in table.apart.get(word, ()) if len(phrase) <= len(kind)}
    for phrase in sorted(phrases, key=lambda one: (-len(one), one)):
        tokens = table.said[phrase]
        if all(word in kind for word in phrase) and {token for _, token in tokens} != set(phrase):
            kind[:] = [word for word in kind if word not in phrase]
            _take(tokens, kind, facets)


def _spelled(word: str, known: frozenset[str], table: _Table) -> str:
    """A word, or the one word that it is a misspelling of; a short one is what it is."""
    vocabulary = table.vocabulary
    if word in known or word in vocabulary or len(word) < 4 or len(word) > MOST_LETTERS or not word.isalpha():
        return word
    for most in (1, 2) if len(word) >= 7 else (1,):
        near = [
            one for one in known | vocabulary if len(one) > 3 and one.isalpha() and distance(word, one, most) <= most
        ]
        first = [one for one in near if one[0] == word[0]]
        best = sorted(first or near)
        if best and len({table.said.get((one,), ((("", one)),)) for one in best}) == 1:
            return best[0]  # `slicd` is `slice` or `sliced`, which say the same
        if near:
            break
    return word
