"""One line's tokens back to text, with the blanks between and inside them set right and keywords in small letters.

Knows nothing of indentation, columns or neighboring lines. What an author wrote as prose or as a free phrase stays as
it is to the last character; in amounts and names only blanks change.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from recipelang.syntax.driver import driver
from recipelang.syntax.kitchen_lines import way_to_thaw
from recipelang.syntax.token import Token
from recipelang.text.digits import DIGIT, LETTER
from recipelang.text.utensils import without_trade_mark

AMOUNTS: Final = frozenset({
    "AMOUNT", "UNIT", "NUMBER", "PERCENT", "HEAT", "TIME", "CREDIT", "MILK_FAT",
})  # fmt: skip
"""Terminals that are amounts and nothing else."""

NAMES: Final = frozenset({
    "NAME", "USED_NAME", "CREDITED_NAME", "PORTION_NAME", "SIZED_NAME", "YIELD_NAME", "NUTRIENT", "ALLERGEN", "STATE",
    "PLACE", "COMPONENT", "METHOD", "MILK_FLAVOR", "GRADES", "GROUP", "DATE", "DASH", "AMOUNT_OF",
})  # fmt: skip
"""Terminals whose words are compared without regard to blanks."""

PROSE: Final = frozenset({"TEXT", "PREPARATION", "STEP"})
"""Terminals that hold whatever an author likes."""

_CLOSE_BEHIND: Final = frozenset({"_COMMA", "_SEMICOLON", "_COLON"})
_NUMBER_MEETS_WORD: Final = re.compile(rf"(?<={DIGIT})(?={LETTER})")
_WORD_MEETS_NUMBER: Final = re.compile(rf"(?<={LETTER})(\.?)(?={DIGIT})")
_BEFORE_PERCENT: Final = re.compile(rf"(?<={DIGIT}) %")
_AFTER_NUMBER_SIGN: Final = re.compile(r"# (?=\d+(?: ?1/2|½)? (?:scoops?|cans?)\b)", re.IGNORECASE)


def line_text(tokens: Sequence[Token]) -> str:
    """Tokens of one line as text: a blank between them, none before a comma."""
    text = ""
    holds = any(token.type in ("HOLD_HOT", "HOLD_COLD") for token in tokens)
    for token in tokens:
        piece = "up to" if holds and token.type == "_FOR" else token_text(token)
        # a blank before `//` would make a comment of it
        apart = text and token.type not in _CLOSE_BEHIND and not piece.startswith("//")
        text += f" {piece}" if apart else piece
    return text


def token_text(token: Token) -> str:
    """One token as the formatter writes it: keywords small, names and amounts evenly spaced, prose as it stands."""
    kind = token.type
    if kind in AMOUNTS:
        return amount_text(token.value)
    if kind in NAMES:
        return " ".join(token.value.split())
    if kind == "STEP":
        return step_text(token.value)
    if kind == "COOK":
        return "cook"  # to bake, to roast and to fry at a heat are one line
    if kind == "THAW_HOW":
        return way_to_thaw(token.value)
    if kind in PROSE:
        return token.value
    return " ".join(token.value.split()).lower()


@lru_cache(maxsize=4096)
def amount_text(text: str) -> str:
    """An amount with one blank between number and unit and none before `%`: `6lb  4oz` as `6 lb 4 oz`. Numbers and
    units stay as written: `165°F`, `2½`, `2 Tbsp.`; only a trade mark does not."""
    text = without_trade_mark(" ".join(text.split()))
    text = _NUMBER_MEETS_WORD.sub(" ", text)
    text = _WORD_MEETS_NUMBER.sub(r"\1 ", text)
    text = _BEFORE_PERCENT.sub("%", text)
    return _AFTER_NUMBER_SIGN.sub("#", text)


def step_text(text: str) -> str:
    """A step with one blank behind its dash; the prose stays."""
    return "- " + text[1:].strip()


def recipe_line_text(text: str) -> str:
    """One line of a recipe that stands inside another one, as in `change credits 1/4 cup fruit`; as it is where it
    can't be read."""
    tokens: list[Token] = []
    _, broken = driver().read_lines(f"\n{text}\n", "recipe_body", tokens)
    return text if broken else line_text([token for token in tokens if token.type != "_NL"])
