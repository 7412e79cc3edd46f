"""What all pictures share: escaping, numbers, elements, and the patterns that a page defines once."""

from __future__ import annotations

from typing import Final

_ESCAPES: Final = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"}

INK: Final = "#1a1a1a"
RED: Final = "#a8201a"
BLUE: Final = "#0b5b8c"


def escaped(text: str) -> str:
    """A text for content and attributes alike; characters that XML forbids are left out."""
    shown = (
        character for character in text if character in "\t\n" or (character >= " " and character not in "\ufffe\uffff")
    )
    return "".join(_ESCAPES.get(character, character) for character in shown if not "\ud800" <= character <= "\udfff")


def number(value: float) -> str:
    """A coordinate with a tenth at most."""
    return f"{value:.1f}".removesuffix(".0")


def element(name: str, text: str | None = None, **attributes: str | float) -> str:
    """One element; underscores in an attribute's name stand for dashes. The text is escaped."""
    told = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escaped(value) if isinstance(value, str) else number(value)}"'
        for key, value in attributes.items()
    )
    return f"<{name}{told}/>" if text is None else f"<{name}{told}>{escaped(text)}</{name}>"


def picture(width: float, height: float, label: str, parts: list[str], kind: str) -> str:
    """A picture that is read out as one sentence."""
    return (
        f'<svg class="{kind}" role="img" aria-label="{escaped(label)}" viewBox="0 0 {number(width)} {number(height)}" '
        f'width="{number(width)}" height="{number(height)}" xmlns="http://www.w3.org/2000/svg">{"".join(parts)}</svg>'
    )


LAYERS: Final = ("layer-dots", "layer-lines", "layer-plain", "layer-checks", "layer-slant", "layer-waves")
"""Names of the patterns by which layers differ without any color."""


def definitions() -> str:
    """The patterns of all pictures of a page, to stand in it once."""

    def pattern(name: str, ground: str, *parts: str) -> str:
        return (
            f'<pattern id="{name}" width="8" height="8" patternUnits="userSpaceOnUse">'
            f'<rect width="8" height="8" fill="{ground}"/>{"".join(parts)}</pattern>'
        )

    found = [
        pattern("layer-dots", "#f2c04c", '<circle cx="2" cy="2" r="1.3" fill="#8a4b00"/><circle cx="6" cy="6" r="1.3" fill="#8a4b00"/>'),
        pattern("layer-lines", "#e3ddcf", '<path d="M0 4h8" stroke="#7a715c" stroke-width="1"/>'),
        pattern("layer-plain", "#f4f1e8"),
        pattern("layer-checks", "#b9d7a8", '<path d="M0 0h4v4h-4zM4 4h4v4h-4z" fill="#4f7d39"/>'),
        pattern("layer-slant", "#e6b7b0", '<path d="M-2 6l4 4M-2 -2l12 12M6 -2l4 4" stroke="#8c3a30" stroke-width="1.2"/>'),
        pattern("layer-waves", "#bcd6e6", '<path d="M0 4q2 -3 4 0t4 0" stroke="#2c6184" fill="none"/>'),
        pattern("danger", "#fdf3d3", '<path d="M-2 6l4 4M-2 -2l12 12M6 -2l4 4" stroke="#d9a400" stroke-width="1"/>'),
    ]  # fmt: skip
    return f'<svg width="0" height="0" class="definitions" aria-hidden="true"><defs>{"".join(found)}</defs></svg>'
