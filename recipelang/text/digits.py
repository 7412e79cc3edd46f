"""The characters that cooks write numbers with, as patterns. What a number is worth is not known here."""

from __future__ import annotations

from typing import Final

VULGAR: Final = {
    "½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅓": (1, 3), "⅔": (2, 3), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10),
}  # fmt: skip
"""Every vulgar fraction that has a character of its own. They stand here and nowhere else."""

GLYPHS: Final = "".join(VULGAR)
"""The vulgar fractions, to be put between the brackets of a pattern."""
DIGIT: Final = rf"[\d{GLYPHS}]"
LETTER: Final = rf"[^\W\d_{GLYPHS}]"
"""A letter: for Python a vulgar fraction is one too, for a cook it is a digit."""
NUMBER: Final = rf"(?:\d+(?!\d)/\d+|\d+(?!\d)(?:,\d{{3}})*(?:\.\d+(?!\d))?(?:(?:[ \t]+|-)\d+(?!\d)/\d+|[ \t]*[{GLYPHS}])?|\.\d+(?!\d)|[{GLYPHS}])"
"""A number without a sign: `2`, `2.5`, `1/2`, `2 1/2`, `2-1/2`, `½`, `2½`. All digits or none: a pattern that looks for what
comes after one in the middle of its digits takes a time that grows with the square of their number."""
