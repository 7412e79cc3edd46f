"""What the process lines of a recipe do to the food: one slot a line, all of one width, from frozen to hot."""

from __future__ import annotations

from typing import Any, Final

from recipelang.drawings.svg import BLUE, INK, RED, element, picture

_WIDTH: Final = 760.0
_LEFT: Final = 92.0
_TOP: Final = 6.0
_BANDS: Final = (
    ("hot", 42.0, "#fbe4e0"),
    ("danger zone", 54.0, "url(#danger)"),
    ("cold", 30.0, "#dcebf4"),
    ("frozen", 22.0, "#e6e3f3"),
)
_LEVEL: Final = {"hot": 0, "room": 1, "chill": 2, "cold": 2, "frozen": 3}
"""In which band a zone's path runs. Chilling ends in the cold."""


def timeline(slots: list[dict[str, Any]], hot_text: str, cold_text: str) -> str:
    """The picture of a recipe's process lines; `hot_text` and `cold_text` are the edges of the danger zone."""
    parts: list[str] = []
    tops: list[float] = []
    y = _TOP
    for name, height, fill in _BANDS:
        tops.append(y)
        parts.append(element("rect", x=_LEFT, y=y, width=_WIDTH - _LEFT, height=height, fill=fill))
        weight = "700" if name == "danger zone" else "400"
        parts.append(_text(_LEFT - 8, y + height / 2 + 4, name, "end", weight))
        y += height
    for at, text, color in ((1, hot_text, RED), (2, cold_text, BLUE)):
        parts.append(element("line", x1=_LEFT, y1=tops[at], x2=_WIDTH, y2=tops[at], stroke=color, stroke_width=1.6))
        parts.append(_text(_LEFT - 8, tops[at] + 4, text, "end", "700", color))
    slot = (_WIDTH - _LEFT) / len(slots)
    parts += _path(slots, tops, slot)
    lines = 1
    for at, one in enumerate(slots):
        middle = _LEFT + slot * (at + 0.5)
        if at:
            parts.append(
                element(
                    "line",
                    x1=_LEFT + slot * at,
                    y1=_TOP,
                    x2=_LEFT + slot * at,
                    y2=y,
                    stroke="#9a9a9a",
                    stroke_width=0.6,
                )
            )
        letters = max(7, int(slot / 6.4))
        heads, times = _wrapped(one["head_text"], letters), _wrapped(one["time_text"], letters)
        for row, text in enumerate([*heads, *times]):
            parts.append(_text(middle, y + 14 + 12 * row, text, "middle", "700" if row < len(heads) else "400"))
        lines = max(lines, len(heads) + len(times))
    return picture(_WIDTH, y + 14 + 12 * lines, _sentence(slots), parts, "timeline")


def _path(slots: list[dict[str, Any]], tops: list[float], slot: float) -> list[str]:
    parts: list[str] = []
    points: list[str] = []
    dots: list[str] = []
    last = 2
    for at, one in enumerate(slots):
        level = _LEVEL.get(one["zone"], last)
        last = level
        y = tops[level] + _BANDS[level][1] / 2
        x = _LEFT + slot * at
        points += [f"{x + 6:.1f},{y:.1f}", f"{x + slot - 6:.1f},{y:.1f}"]
        if one["ccp"]:
            middle = x + slot / 2
            dots.append(element("circle", cx=middle, cy=y, r=9, fill=INK))
            dots.append(_text(middle, y + 4, str(one["ccp"]), "middle", "700", "#ffffff"))
    parts.append(
        element("polyline", points=" ".join(points), fill="none", stroke=INK, stroke_width=4, stroke_linejoin="round")
    )
    return parts + dots


def _text(x: float, y: float, text: str, anchor: str, weight: str = "400", color: str = INK) -> str:
    return element("text", text, x=x, y=y, font_size=11, text_anchor=anchor, font_weight=weight, fill=color)


def _wrapped(text: str, letters: int) -> list[str]:
    rows: list[str] = []
    for word in text.split():
        if rows and len(rows[-1]) + len(word) < letters:
            rows[-1] += f" {word}"
        else:
            rows.append(word)
    return rows


def _sentence(slots: list[dict[str, Any]]) -> str:
    told = (
        ("CCP {ccp}: " if one["ccp"] else "").format(**one) + f"{one['head_text']}, {one['time_text']}" for one in slots
    )
    return f"In order: {'; '.join(told)}."
