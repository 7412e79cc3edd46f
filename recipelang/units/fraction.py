"""The exact number that everything here is computed with, from text to the one rounding.

cfractions, where it is installed (`pip install recipelang[fast]`), is the same type in C: equal values, equal text, equal
hashes, a seventh fewer instructions for a check. Nothing may depend on which of the two it is, and nothing else imports
either, or sums would mix them. quicktions is as fast, but up to 1.24 it writes over an object that Python shares
(`bytes(1)`) when it reads a text of one character, so that any file may look like no text.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from fractions import Fraction
else:
    try:
        from cfractions import Fraction
    except ImportError:
        from fractions import Fraction

__all__ = ["ONE", "ZERO", "Fraction"]

ZERO: Final = Fraction(0)
ONE: Final = Fraction(1)
