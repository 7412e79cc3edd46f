"""Foods by the words that a card calls them: in any order, with or without commas, by any of their usual names.

A name is read as what it is of (its kind: `tomato`, `paste`), how it comes (fresh, frozen, canned, dry; raw, cooked), how
it is cut, and how it is made (low-sodium, whole-wheat). Two names fit only where the kinds are the same words: `beef` is
never `beef broth`, and `lemon` never `lime`, however alike they are spelled. A word that no name has and that is spelled
nearly like one is taken for it; a word for a food that is nowhere here (`rye`, `goat`) fits nothing.

Nothing is resolved here: what is found is offered. The words themselves stand in `kitchen_words.toml`, which
`kitchen_words.py` reads.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final

from recipelang.pantry import pantry
from recipelang.pantry.kitchen_words import FACETS, Words, bare_meanings, is_kitchen_word, is_near, read_words, words_of
from recipelang.syntax.split import fold
from recipelang.text.record import Record

_TOO_FAR: Final = 2.5
"""What costs so much more than the first match is no alternative to it."""
_EXPECTED: Final = {"fresh": 0.2, "canned": 0.5, "dry": 0.8, "frozen": 0.7}
"""What it costs to take a food that doesn't say how it comes for one that does."""


class Match(Record):
    """A name that fits, and how far it is from what was written; 0 where it says the same."""

    name: str
    cost: float
    corrected: bool = False
    """Whether it fits only if a word is misspelled."""


class CardNames:
    """Names to look for a card's words in. `named` gives each name as it is written, with what else it is called."""

    def __init__(self, named: Mapping[str, Iterable[str]]) -> None:
        self._by_kind: dict[frozenset[str], list[tuple[str, Words, bool]]] = {}
        known: set[str] = set()
        for name, further in named.items():
            own = read_words(name)
            for number, one in enumerate((name, *further)):
                known.update(words_of(one))
                words = read_words(one)
                # `yellow onions` are the fresh ones, which their other name leaves out
                comes = {facet: own.of(facet) for facet in ("preserved", "cooked") if not words.of(facet)}
                words = words._replace(facets={**comes, **words.facets})
                self._by_kind.setdefault(words.kind, []).append((name, words, number > 0))
        self._known = frozenset(known)

    def matches(self, text: str, most: int = 3) -> list[Match]:
        """The names that fit a text, the nearest first."""
        asked = read_words(text, self._known)
        found: dict[str, Match] = {}
        for words, besides in _readings(asked):
            for name, has, is_further in self._by_kind.get(words.kind, ()):
                cost = cost_of(words, has)
                if cost is None:
                    continue
                cost += besides + (0.05 if is_further else 0) + 0.5 * asked.corrected
                known = found.get(name)
                if known is None or cost < known.cost:
                    found[name] = Match(name, cost, asked.corrected > 0)
        ordered = sorted(found.values(), key=lambda one: (one.cost, len(one.name), one.name))
        return [one for one in ordered[:most] if one.cost <= ordered[0].cost + _TOO_FAR]

    def knows(self, word: str) -> bool:
        """Whether a word, in the singular, is a name's or the kitchen's: it is no misspelling, and stands for something."""
        return word in self._known or is_kitchen_word(word)


def _readings(asked: Words) -> Iterator[tuple[Words, float]]:
    """What a name may mean: what it says, and where it is a bare word, what that means most often."""
    yield asked, 0
    for number, meant in enumerate(bare_meanings(asked.kind)):
        words = read_words(meant)
        facets = {facet: asked.of(facet) | words.of(facet) for facet in FACETS}
        yield Words(words.kind, {facet: found for facet, found in facets.items() if found}), 0.5 + number * 0.25


@lru_cache(maxsize=1024)
def named_by_note(name: str, note: str) -> str | None:
    """The pantry food that a food becomes by a note: `fresh onions` and `chopped` are `fresh onions diced`. None where the
    note makes no other food of it, or another thing altogether."""
    own, both = read_words(name), read_words(f"{name}, {note}")
    if own.kind != both.kind or own.facets == both.facets or (_state(own) and "cooked" in both.of("cooked")):
        return None
    words = frozenset(words_of(name)) & own.kind
    if not words:
        return None
    alike = {
        declared.name: pantry().further_names_of(fold(declared.name))
        for declared in pantry().all()
        if words.issubset(words_of(declared.name))
    }
    now = cost_of(both, own)
    best = next(iter(CardNames(alike).matches(f"{name}, {note}", 1)), None)
    if best is None or now is None or best.cost > _SURE or best.cost > now - _BETTER:
        return None
    return best.name


_SURE: Final = 0.75
"""A match that costs more says something else than the note."""
_BETTER: Final = 0.15
"""By how much a match has to be nearer than the name as it stands."""


# ---- how near names of one kind are ----------------------------------------------------------------------------------


def cost_of(asked: Words, has: Words) -> float | None:
    """How far a name is from what is asked for, both of one kind; None where it can't be that."""
    preserved, cooked = _preserved(asked.of("preserved"), has.of("preserved")), _cooked(asked, has)
    if preserved is None or cooked is None:
        return None
    cost = preserved + cooked + _cut(asked.of("cut"), has.of("cut")) + _made(asked.of("made"), has.of("made"))
    cost += 0.4 * bool(asked.of("drained") - has.of("drained")) + 0.6 * bool(has.of("drained") - asked.of("drained"))
    sizes = has.of("size") - asked.of("size")
    cost += (3 if asked.of("size") else 1) * len(sizes) + 0.2 * len(asked.of("size") - has.of("size"))
    soft, wanted = has.of("besides"), asked.of("besides")
    cost += 0.45 * len(soft - wanted) + 0.2 * len(wanted - soft)
    return cost + (2 if {"peeled", "unpeeled"} <= (soft ^ wanted) else 0)


def _preserved(asked: frozenset[str], has: frozenset[str]) -> float | None:
    """Fresh, frozen, canned or dry: two of them never agree, unless one name leaves it open."""
    if asked and has:
        return 0.0 if asked & has else None
    if has:
        return min(_EXPECTED.get(one, 1.0) for one in has)
    return 0.1 if not asked else 1.5 if asked == {"dry"} else 0.2


def _cooked(asked: Words, has: Words) -> float | None:
    """Raw or cooked; what is fresh is raw, and what is bought dry is not cooked."""
    wanted, found = _state(asked), _state(has)
    if wanted and found and wanted != found:
        return None
    return 0.0 if wanted == found else 0.9 if found == "cooked" else 0.15


def _state(words: Words) -> str:
    if words.of("cooked"):
        return "cooked" if "cooked" in words.of("cooked") else "raw"
    return "raw" if words.of("preserved") and words.of("preserved") <= {"fresh", "dry"} else ""


def _cut(asked: frozenset[str], has: frozenset[str]) -> float:
    if asked == has or asked & has:
        return 0.0
    if not asked:
        return 0.9
    if not has:
        return 0.1 if asked == {"whole"} else 0.8
    return 0.4 if any(is_near(word, other) for word in asked for other in has) else 1.2


def _made(asked: frozenset[str], has: frozenset[str]) -> float:
    """What differs on the label: what is asked for weighs most."""
    cost = 0.0
    surplus = has - asked
    for word in sorted(asked - has):
        other = next((one for one in sorted(surplus) if is_near(word, one)), None)
        if other is None:
            cost += 3
        else:
            surplus -= {other}
            cost += 0.6
    return cost + 1.5 * len(surplus)
