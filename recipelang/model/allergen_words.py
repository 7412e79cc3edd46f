"""Words for allergens: the kinds that labels name, and what the names of foods give away.

The tree nuts that count are the twelve of table 1 in FDA, Questions and Answers Regarding Food Allergens, edition 5,
January 2025. Crustaceans are of 21 U.S.C. 321(qq), mollusks are not.
"""

from __future__ import annotations

import re
from typing import Final

_TREE_NUTS: Final = frozenset({
    "almond", "black walnut", "brazil nut", "california walnut", "cashew", "filbert", "hazelnut", "heartnut",
    "japanese walnut", "macadamia", "macadamia nut", "bush nut", "pecan", "pine nut", "pinon", "pinon nut", "pignoli",
    "pistachio", "walnut", "english walnut", "persian walnut",
})  # fmt: skip
_FORMER_TREE_NUTS: Final = frozenset({
    "beech nut", "beechnut", "butternut", "chestnut", "chinquapin", "coconut", "cola nut", "kola nut", "ginkgo", "ginkgo nut",
    "hickory nut", "lichee nut", "lychee nut", "lychee", "palm nut", "pili nut", "shea nut", "sheanut",
})  # fmt: skip
_CRUSTACEANS: Final = frozenset({
    "crab", "lobster", "shrimp", "prawn", "crayfish", "crawfish", "langoustine", "langostino", "krill",
})  # fmt: skip
_MOLLUSKS: Final = frozenset({
    "clam", "oyster", "mussel", "scallop", "squid", "calamari", "octopus", "snail", "cuttlefish", "conch", "abalone",
    "whelk", "cockle",
})  # fmt: skip
_FISH: Final = frozenset({
    "anchovy", "bass", "catfish", "cod", "flounder", "haddock", "halibut", "herring", "mackerel", "mahi-mahi", "perch",
    "pollock", "salmon", "sardine", "snapper", "sole", "swai", "tilapia", "trout", "tuna", "whitefish", "whiting",
})  # fmt: skip


def is_tree_nut(kind: str) -> bool:
    """Whether a kind is one of the twelve tree nuts of FDA's list."""
    return _is_of(kind, _TREE_NUTS)


def was_tree_nut(kind: str) -> bool:
    """Whether a kind left FDA's list of tree nuts in January 2025; labels of older stock still name it."""
    return _is_of(kind, _FORMER_TREE_NUTS)


def is_mollusk(kind: str) -> bool:
    """Whether a kind is a mollusk, which is shellfish and none of the nine."""
    return _is_of(kind, _MOLLUSKS)


def is_crustacean(kind: str) -> bool:
    return _is_of(kind, _CRUSTACEANS)


def allergen_of_kind(kind: str) -> str:
    """The allergen that a kind belongs to, or empty for a word that is no kind we know."""
    for allergen, words in (("tree nuts", _TREE_NUTS), ("crustacean shellfish", _CRUSTACEANS), ("fish", _FISH)):
        if _is_of(kind, words):
            return allergen
    return ""


def _is_of(kind: str, words: frozenset[str]) -> bool:
    """Whether a kind is one of some words, however it is qualified: `snow crab`, `sliced almonds`, `pine nuts`."""
    parts = [singular(word) for word in kind.casefold().replace("ñ", "n").split()]
    return bool(parts) and (parts[-1] in words or " ".join(parts[-2:]) in words)


_IES: Final = re.compile(r"(?<=[^aeiou])ies$")


def singular(word: str) -> str:
    """A noun in the singular, by its ending alone."""
    if word.endswith("ies"):
        return _IES.sub("y", word)
    if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3:
        return word[:-1]
    return word
