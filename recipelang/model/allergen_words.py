"""Words for allergens: the kinds that labels name, and what the names of foods give away.

The tree nuts that count are the twelve of table 1 in FDA, Questions and Answers Regarding Food Allergens, edition 5,
January 2025. Crustaceans are of 21 U.S.C. 321(qq), mollusks are not.
"""

from __future__ import annotations

import re
from itertools import pairwise
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


# ---- names of foods --------------------------------------------------------------------------------------------------

_NOT_IT: Final = re.compile(
    r"\b(?:"
    r"(?:no|non|not|without)[ -](?:any[ ])?\w+|\w+[ -](?:free|less|flavored|flavor|style|shaped|substitute|replacer)"
    r"|cream of tartar|cream soda|creamed|butter (?:bean|lettuce|squash)|egg roll|almond extract|crab ?apple"
    r"|milk thistle|(?:peanut|soybean|soy) oil|imitation \w+"
    r")\b"
)
"""Phrases whose words promise less than they seem to: refined oils, flavors, what a food is said to be free of."""
_MILK_PLANTS: Final = "coconut|almond|oat|rice|soy|hemp|pea|cashew|hazelnut|macadamia|flax"
_OF_PLANTS: Final = re.compile(
    rf"\b({_MILK_PLANTS}|peanut|nut|seed|sunflower|pumpkin|apple|pear|fruit|cocoa|shea|cookie|soynut|granola)(?: milk)?"
    r" (?:milk|cream|creamer|yogurt|cheese|butter)\b"
)
"""Milks, creams and butters of plants, which say only what they are made of."""
_VEGAN: Final = re.compile(r"\b(?:vegan|plant[ -]based|non[ -]?dairy|dairy[ -]free|meatless)\b")
_OF_ANIMALS: Final = frozenset({"milk", "egg", "fish", "crustacean shellfish"})
_IN_NAMES: Final = {
    "milk": frozenset({
        "milk", "buttermilk", "cheese", "cream cheese", "cottage cheese", "sour cream", "ice cream", "whipped cream",
        "heavy cream", "light cream", "whipping cream", "half-and-half", "butter", "yogurt", "whey", "casein", "ricotta",
        "mozzarella", "cheddar", "parmesan", "feta", "provolone", "gouda",
    }),
    "egg": frozenset({"egg", "mayonnaise"}),
    "fish": _FISH - {"bass", "sole", "snapper"} | {"fish"},
    "crustacean shellfish": _CRUSTACEANS,
    "tree nuts": _TREE_NUTS,
    "peanuts": frozenset({"peanut"}),
    "wheat": frozenset({"wheat", "couscous", "bulgur", "semolina", "farina", "durum", "spelt", "seitan"}),
    "soy": frozenset({"soy", "soybean", "tofu", "edamame", "tempeh"}),
    "sesame": frozenset({"sesame", "tahini"}),
}  # fmt: skip


def is_plant_milk(name: str) -> bool:
    """Whether the name of something that is drunk as milk says that it is of plants: `fortified soy beverage`."""
    return (
        re.search(rf"\b(?:{_MILK_PLANTS})\b", name.casefold()) is not None or _VEGAN.search(name.casefold()) is not None
    )


def allergens_in_name(name: str) -> list[tuple[str, str]]:
    """The allergens that a food's name gives away, each with the word that does: `peanut spread` says peanuts.

    `peanut butter` is no butter, `oat milk` no milk, `nut-free` no nut. A name that says nothing says nothing: `bread`
    may be made of anything.
    """
    folded = " ".join(singular(word) for word in name.casefold().replace("ñ", "n").split())
    words = re.findall(r"[\w'-]+", _OF_PLANTS.sub(r"\1", _NOT_IT.sub(" ", folded)))
    phrases = (*words, *(f"{one} {other}" for one, other in pairwise(words)))
    is_vegan = _VEGAN.search(folded) is not None
    found: list[tuple[str, str]] = []
    for allergen, said in _IN_NAMES.items():
        word = next((phrase for phrase in phrases if phrase in said), "")
        if word and not (is_vegan and allergen in _OF_ANIMALS):
            found.append((allergen, word))
    return found
