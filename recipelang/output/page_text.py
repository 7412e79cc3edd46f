"""Texts as a printed page shows them: `2½ cups` on one line, and no character that would act on the page."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final

from recipelang.text.digits import GLYPHS, VULGAR
from recipelang.text.visible import visible

_GLYPHS: Final = {f"{top}/{bottom}": glyph for glyph, (top, bottom) in VULGAR.items()}
_FRACTION: Final = re.compile(r"(?<![\d/])(?:(\d+) )?([1-7]/[2348])(?![\d/])")
_UNIT: Final = re.compile(rf"(?<=[\d{GLYPHS}]) (?=°|(?:lb|oz|gal|qt|cups?|tbsp|tsp|fl|g|kg|mL|L|min|h|s|d)\b)")


def shown(text: str) -> str:
    """A text with the characters written out that turn the direction of writing, or that no page may hold."""
    return visible(text).encode("utf-8", "backslashreplace").decode()


def amount(text: str) -> str:
    """An amount with its fractions as characters, and its number and its unit never on two lines."""
    with_glyphs = _FRACTION.sub(lambda match: f"{match[1] or ''}{_GLYPHS.get(match[2], match[2])}", text)
    return _UNIT.sub("\u00a0", with_glyphs)


def for_page(value: Any, last: Callable[[str, str], str] | None = None, name: str = "") -> Any:
    """Data whose texts are all written for a page. `last` may change each further, by the name of its field."""
    if isinstance(value, dict):
        return {key: for_page(one, last, key) for key, one in value.items()}
    if isinstance(value, list):
        return [for_page(one, last, name) for one in value]
    if not isinstance(value, str) or name == "svg":
        return value
    text = amount(shown(value))
    return text if last is None else last(name, text)
