"""Characters that a terminal, a log or a page would act on instead of showing: written out."""

from __future__ import annotations

import re
from typing import Final

_ACTING: Final = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]")
"""Controls, line ends among them, zero-width characters, and those that turn the direction of writing."""


def visible(text: str) -> str:
    """A text of one line in which such characters stand as `\\u202e`."""
    return _ACTING.sub(lambda match: f"\\u{ord(match[0]):04x}", text)
