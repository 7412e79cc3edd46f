"""What a word for a nutrient means: the fifteen of a label in their usual spellings, and what is asked about."""

from __future__ import annotations

from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.model.allergen_words import singular
from recipelang.model.vocabulary import NUTRIENT_SPELLINGS, NUTRIENTS

_FEWEST_LETTERS: Final = 3
_SYMBOLS: Final = {
    "na": "sodium", "k": "potassium", "ca": "calcium", "fe": "iron", "cho": "carbohydrate", "saturates": "saturated fat",
    "of which saturates": "saturated fat", "of which sugars": "total sugars", "net carbs": "carbohydrate",
    "trans fatty acids": "trans fat", "trans": "trans fat", "sat": "saturated fat", "saturated": "saturated fat",
    "added": "added sugars",
}  # fmt: skip
"""Words that people write for one of the fifteen, and that no rule of spelling finds."""


def nutrient_of(phrase: str) -> str:
    """A folded phrase as the nutrient that it names: one of the fifteen, or itself."""
    return NUTRIENT_SPELLINGS.get(phrase, phrase)


def nutrient_meant(phrase: str) -> str:
    """The nutrient of a label that a folded phrase is probably meant for, which it does not name: `carbs`, `satfat`,
    `potasium`, `includes added sugars`. Empty for one that a library may well add, as `vitamin C` and `zinc`."""
    if phrase in NUTRIENTS or phrase in NUTRIENT_SPELLINGS:
        return ""
    if phrase in _SYMBOLS:
        return _SYMBOLS[phrase]
    if phrase.startswith("vitamin "):
        return ""  # vitamin C is no slip for vitamin D
    names = (*NUTRIENTS, *NUTRIENT_SPELLINGS)
    near = nearest(phrase, names, 1) or [name for name in names if _is_short_for(phrase, name)][:1]
    near = near or [name for name in names if _holds(phrase, name)][:1]
    return nutrient_of(near[0]) if near else ""


def _holds(phrase: str, name: str) -> bool:
    """Whether a phrase has all words of a name of several, whatever else it says: `includes added sugars`."""
    words = {singular(word) for word in name.split()}
    return len(words) > 1 and words <= {singular(word) for word in phrase.split()}


def _is_short_for(phrase: str, name: str) -> bool:
    """Whether a phrase is made of the beginnings of a name's words, in their order: `sat fat`, `chol`, `tot. fat`."""
    squeezed = "".join(letter for letter in phrase if letter.isalpha())
    if len(squeezed) < _FEWEST_LETTERS:
        return False
    words = name.split()
    return _begins(squeezed, words) or (squeezed.endswith("s") and _begins(squeezed[:-1], words))


def _begins(letters: str, words: list[str]) -> bool:
    """Whether letters are beginnings of all these words, one after the other."""
    if not words:
        return not letters
    if len(words) == 1:
        return len(letters) >= min(_FEWEST_LETTERS, len(words[0])) and words[0].startswith(letters)
    first = words[0]
    return any(
        _begins(letters[length:], words[1:])
        for length in range(len(first), 0, -1)
        if letters[:length] == first[:length] and len(letters) > length
    )
