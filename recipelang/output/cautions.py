"""What stands beside figures that can hurt somebody when they are wrong."""

from __future__ import annotations

from typing import Final

ALLERGEN_CAUTION: Final = "Check every package, mind cross-contact, and follow each child's medical statement."
SAFETY_CAUTION: Final = (
    "Figures of the FDA Food Code; your State or local code and your written food-safety plan come first."
)
