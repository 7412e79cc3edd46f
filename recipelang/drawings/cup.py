"""A filled container, to scale by volume: a frustum whose bottom is 0.74 of its top, with its fill line and its layers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from recipelang.drawings.svg import INK, LAYERS, RED, element, picture

_BOTTOM: Final = 0.74
_TOP_WIDTH: Final = 84.0
_TALL: Final = 104.0
_LEFT: Final = 12.0
_ABOVE: Final = 14.0
_BISECTIONS: Final = 50
_MANY: Final = 3
_APART: Final = 28.0
_APART_ON_ONE_LINE: Final = 14.0
"""The least distances between two labels."""
_LETTERS: Final = 23
_LETTERS_ON_ONE_LINE: Final = 27
_WIDTH: Final = 252.0


def height_of(share: float) -> float:
    """How high, as a share of the container's height, the given share of its volume stands."""
    whole = _volume(1.0)
    low, high = 0.0, 1.0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        if _volume(middle) < share * whole:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _volume(height: float) -> float:
    """Of the frustum up to a height, for a top radius and a height of 1, without pi / 3."""
    radius = _BOTTOM + (1 - _BOTTOM) * height
    return height * (_BOTTOM * _BOTTOM + _BOTTOM * radius + radius * radius)


def cup(container: dict[str, Any]) -> str:
    """The picture of one container of a card."""
    holds = container["holds_fl_oz"]
    scale = min(1.0, 0.62 + holds / 32)
    layers = container["layers"]
    parts: list[str] = []
    labels: list[tuple[float, str, str]] = []
    below = 0.0
    for at, layer in enumerate(layers):
        above = below + layer["fl_oz"]
        low, high = (height_of(min(1.0, volume / holds)) for volume in (below, above))
        fill = f"url(#{LAYERS[(container['first_layer'] + at) % len(LAYERS)]})"
        parts.append(element("polygon", points=_band(low, high, scale), fill=fill, stroke=INK, stroke_width=0.8))
        labels.append((_y((low + high) / 2, scale), layer["name_text"], layer["text"]))
        below = above
    line = height_of(min(1.0, container["room_fl_oz"] / holds))
    color = RED if container["over"] else INK
    parts += _outline(scale)
    parts.append(
        element(
            "line", x1=_LEFT - 8, y1=_y(line, scale), x2=_LEFT + _TOP_WIDTH * scale + 14, y2=_y(line, scale), stroke=color,
            stroke_width=1.4, stroke_dasharray="4 3",
        )
    )  # fmt: skip
    right = _LEFT + _TOP_WIDTH * scale + 18
    word = "OVER THE FILL LINE" if container["over"] else "fill line"
    parts.append(_text(right, _y(line, scale) + 3.5, f"{word} {container['room_text']}", bold=True, color=color))
    beside, bottom = _labels(labels, right, scale, _y(line, scale) + 8)
    height = max(_TALL * scale + _ABOVE + 12, bottom)
    return picture(_WIDTH, height, _sentence(container), parts + beside, "cup")


def _labels(
    labels: Sequence[tuple[float, str, str]], right: float, scale: float, least: float
) -> tuple[list[str], float]:
    """The names of the layers beside them, the highest first, pushed down where they would stand on each other; and how far
    down the last one reaches. Many layers are told on one line each."""
    parts: list[str] = []
    many = len(labels) > _MANY
    apart = _APART_ON_ONE_LINE if many else _APART
    y = least
    for at, (wanted, name, text) in enumerate(reversed(labels)):
        y = max(wanted, y + (apart if at else apart / 2))
        start = _LEFT + _TOP_WIDTH * scale * 0.8
        parts.append(
            element(
                "path",
                d=f"M{start:.1f} {wanted:.1f}L{right - 3:.1f} {y:.1f}",
                stroke=INK,
                stroke_width=0.7,
                fill="none",
            )
        )
        most = _LETTERS_ON_ONE_LINE - len(text) - 1 if many else _LETTERS
        shown = name if len(name) <= most else name[: most - 1] + "…"
        parts.append(
            _text(right, y + 3, f"{shown} {text}" if many else shown, bold=not many, size=9.5 if many else 10.5)
        )
        if not many:
            parts.append(_text(right, y + 14, text))
    return parts, y + 16


def _text(x: float, y: float, text: str, bold: bool = False, color: str = INK, size: float = 10.5) -> str:
    return element("text", text, x=x, y=y, font_size=size, font_weight="700" if bold else "400", fill=color)


def _y(height: float, scale: float) -> float:
    return _ABOVE + (1 - height) * _TALL * scale


def _edges(height: float, scale: float) -> tuple[float, float]:
    half = _TOP_WIDTH * scale / 2 * (_BOTTOM + (1 - _BOTTOM) * height)
    middle = _LEFT + _TOP_WIDTH * scale / 2
    return middle - half, middle + half


def _band(low: float, high: float, scale: float) -> str:
    left, right = _edges(low, scale)
    top_left, top_right = _edges(high, scale)
    corners = ((left, low), (right, low), (top_right, high), (top_left, high))
    return " ".join(f"{x:.1f},{_y(height, scale):.1f}" for x, height in corners)


def _outline(scale: float) -> list[str]:
    left, right = _edges(0, scale)
    top_left, top_right = _edges(1, scale)
    path = f"M{top_left:.1f} {_y(1, scale):.1f}L{left:.1f} {_y(0, scale):.1f}L{right:.1f} {_y(0, scale):.1f}L{top_right:.1f} {_y(1, scale):.1f}"
    return [element("path", d=path, fill="none", stroke=INK, stroke_width=2.6, stroke_linejoin="round")]


def _sentence(container: dict[str, Any]) -> str:
    layers = ", then ".join(f"{layer['text']} {layer['name_text']}" for layer in container["layers"])
    state = "over the fill line" if container["over"] else "below the fill line"
    least = "at least " if container["at_least"] else ""
    return f"{container['name_text']}, from the bottom: {layers}; {least}{container['filled_text']}, {state} of {container['room_text']}."
