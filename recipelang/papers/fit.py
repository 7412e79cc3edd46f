"""The largest type at which the bench side of a card fits a page: worked out from counts of letters, because a page can't be
measured before it is set."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil
from typing import Any, Final

SIZES: Final = (15.6, 14.6, 13.6, 12.6, 11.8, 10.8, 9.8)
"""Points. The smallest is used where nothing fits; the card then goes on on a second page."""
PAGES: Final = {"letter": (540.0, 720.0), "a4": (523.0, 769.0)}
"""Width and height of a page within its margins, in points."""

_LETTER: Final = 0.47
"""The mean width of a letter in ems: what is measured of common sans-serif type, with a little to spare."""
_BOLD: Final = 0.52
_LINE: Final = 1.28
_LEFT: Final = {True: 0.61, False: 0.55}
"""The share of the page's width that ingredients have, by whether there are more than two batch sizes."""
_NAME: Final = {True: 0.30, False: 0.36}
"""And of that the share of their names."""
_CUP: Final = 136.0


def type_size(card: dict[str, Any], paper: str, letters: float = 1.0, lines: float = 1.0) -> float:
    """The size for a card's bench side, in points; `letters` and `lines` are how wide the letters and how far apart the
    lines are beside those of a web page."""
    width, height = PAGES[paper]
    return next(
        (size for size in SIZES if _height(card, width / size / letters, size) * size * lines <= height), SIZES[-1]
    )


def _height(card: dict[str, Any], wide: float, size: float) -> float:
    """The height of a bench side in ems of a size, on a page that is so many ems wide."""
    steps = [_step(step, card, wide) for step in card["steps"]]
    if card["unnamed"]:
        steps.append(_table(card["unnamed"], wide) + 2.0)
    return (
        _head(card, wide)
        + _banner(card, wide)
        + _strip(card, wide)
        + _plates(card, wide)
        + sum(steps)
        + _foot(card, wide, size)
    )


def _rows(text: str, wide: float, letter: float = _LETTER, scale: float = 1.0) -> int:
    return max(1, ceil(len(text) * letter * scale / max(wide, 2.0)))


def _head(card: dict[str, Any], wide: float) -> float:
    title = _rows(card["title_text"], wide - 9, _BOLD, 2.05) * 2.05 * 1.1
    under = len(card["course_text"]) + len(card["process_text"]) + len(card["audience_text"]) + 8
    return title + _rows("x" * under, wide - 9) * _LINE + 1.2


def _banner(card: dict[str, Any], wide: float) -> float:
    if not card["errors"]:
        return 0.0
    lines = [_rows(one["where_text"] + one["message_text"], wide - 5, _BOLD) for one in card["errors"]]
    lines += [_rows("fix: " + one["fix_text"], wide - 5) for one in card["errors"] if one["fix_text"]]
    return 6.0 + sum(lines) * _LINE + 0.3 * len(card["errors"])


def _strip(card: dict[str, Any], wide: float) -> float:
    boxes = []
    for fact in card["fact_strip"]:
        widest = max(len(value) * _BOLD * 1.12 for value in fact["values"])
        widest = max(widest, len(fact["note_text"]) * _LETTER * 0.92, len(fact["label_text"]) * 0.65) + 1.6
        lines = sum(_rows(value, wide - 2, _BOLD, 1.12) for value in fact["values"])
        boxes.append((min(widest, wide), 1.1 + lines * 1.36 + (1.2 if fact["note_text"] else 0) + 0.2))
    return 0.9 + _flowed(boxes, wide, 0.0)


def _plates(card: dict[str, Any], wide: float) -> float:
    texts = [f"{head} {' · '.join(names)}" for head, names in (
        ("CONTAINS", card["contains"]), ("MAY CONTAIN", card["may_contain"]),
        ("NOT KNOWN: no label read for", card["unknown"]), ("BY A PANTRY DEFAULT, no label read: . Read the package.", card["defaults"]),
        ("NO DATE of a label read: . Read the package.", card["undated"]),
    ) if names] or ["No label read says “contains”"]  # fmt: skip
    boxes = []
    for text in texts:
        whole = len(text) * 0.56 * 1.1 + 1.6
        lines = ceil(whole / wide)
        boxes.append((min(whole, wide), lines * 1.45 + 0.95))
    boxes.append((16.0, 1.2))  # the caution, beside them where it has room
    return _flowed(boxes, wide, 0.4) + 1.3


def _flowed(boxes: Iterable[tuple[float, float]], wide: float, gap: float) -> float:
    """The height of boxes that flow into rows."""
    total = used = tallest = 0.0
    for box, height in boxes:
        if used and used + gap + box > wide:
            total += tallest + gap
            used = tallest = 0.0
        used += box + (gap if used else 0.0)
        tallest = max(tallest, height)
    return total + tallest


def _step(step: dict[str, Any], card: dict[str, Any], wide: float) -> float:
    share = _LEFT[len(card["batches"]) > 2]
    left = _table(step["goes_in"], wide * share) if step["goes_in"] else 0.0
    if step["from_before"]:
        told = ", ".join(f"{one['name_text']} from step {one['step']}" for one in step["from_before"])
        left += _rows(told, wide * share - 1, _LETTER, 0.95) * 1.25 + 0.6
    room = wide * (1 - share) - 1.6
    words = "".join(part["text"] for part in step["words"]) + f"  {step['zone_text']}  "
    right = _rows(words, room - 1.9, 0.475, 1.1) * 1.1 * _LINE + 0.9
    for control in step["controls"]:
        told = f"{control['head_text']} {control['limit_text']}"
        if control["ccp"]:
            right += _rows(told, room - 6.6, 0.465) * _LINE + 1.2
        else:
            right += _rows(told, room - 2.7, 0.475) * _LINE + 0.35
    return max(left, right) + 0.25


def _table(lines: list[dict[str, Any]], wide: float) -> float:
    columns = len(lines[0]["cells"])
    share = _NAME[columns > 2]
    name, cell = wide * share - 0.6, wide * (1 - share) / columns - 1.0
    total = 1.65
    for line in lines:
        first = _rows(line["name_text"] + (" ■" if line["counts"] else ""), name, _BOLD) * _LINE
        first += _rows(line["note_text"], name, _LETTER, 0.86) * 1.1 if line["note_text"] else 0.0
        tallest: float = max(
            _rows(one["first_text"], cell, _BOLD, 1.16) * 1.34
            + (_rows(one["second_text"], cell, _LETTER, 0.95) * 1.22 if one["second_text"] else 0.0)
            for one in line["cells"]
        )
        total += max(first, tallest) + 0.5
    return total


def _foot(card: dict[str, Any], wide: float, size: float) -> float:
    marks = 130 + len(card["source_text"]) + 45 * (card["marks"]["up"] + card["marks"]["counts"])
    pictures, beside = 0.0, wide
    if card["containers"]:
        one_wide = 181 / size
        per_row = max(1, int(wide / one_wide))
        tallest = max(_CUP if len(one["layers"]) <= 3 else 60.0 + 14 * len(one["layers"]) for one in card["containers"])
        pictures = ceil(len(card["containers"]) / per_row) * (max(tallest, 110.0) * 0.72 / size + 1.4)
        beside = wide - one_wide * min(per_row, len(card["containers"])) - 1.5
    apart = beside < 12
    texts = [f"Leftovers: {text}" for text in (card["leftovers_text"], card["batch_text"]) if text]
    words = sum(_rows(text, wide if apart else beside, _LETTER, 1.05) * 1.36 for text in texts)
    return (
        0.7
        + (pictures + words if apart else max(pictures, words))
        + _rows("x" * marks, wide, _LETTER, 0.78) * 1.0
        + 1.0
    )
