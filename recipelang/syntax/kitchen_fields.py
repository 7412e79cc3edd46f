"""Lines of declarations as cooks write them first, and the line of the notation that says the same.

Each way of writing is turned into the notation's by a pattern; what comes of it is told only if it reads. Nothing is made up:
no date, price, allergen or evidence that the line does not hold itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Final

from recipelang.text.record import Record


class Meant(Record):
    """What a line is meant to say."""

    lines: tuple[str, ...]
    together: bool = False
    """Whether all the lines are to be written, rather than one of them."""
    why: str = ""


_MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH: Final = r"(?P<month>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
_DATES: Final = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"\b(?P<number>\d{1,2})[/-](?P<day>\d{1,2})[/-](?P<year>(?:20)?\d{2})\b",
        rf"\b{_MONTH}[ \t]+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?,?[ \t]+(?P<year>20\d{{2}})\b",
        rf"\b(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[ \t]+{_MONTH},?[ \t]+(?P<year>20\d{{2}})\b",
        r"\b(?P<year>20\d{2})[/.](?P<number>\d{1,2})[/.](?P<day>\d{1,2})\b",
    )
)
"""Days as they are written in the United States, and with the month in letters."""


def with_plain_dates(text: str) -> str:
    """A text with its days written year, month, day; what is no day stays."""
    for pattern in _DATES:
        text = pattern.sub(_plain_date, text)
    return text


def _plain_date(match: re.Match[str]) -> str:
    found = match.groupdict()
    month = int(found["number"]) if found.get("number") else _MONTHS.index(found["month"][:3].casefold()) + 1
    year, day = int(found["year"]), int(found["day"])
    if not 1 <= month <= 12 or not 1 <= day <= 31:
        return match[0]
    return f"{year if year > 99 else 2000 + year}-{month:02}-{day:02}"


# ---- ways of writing -------------------------------------------------------------------------------------------------

_Way = tuple[frozenset[str], re.Pattern[str], str]


def _way(kinds: str, pattern: str, written: str) -> _Way:
    return frozenset(kinds.split()), re.compile(pattern, re.IGNORECASE), written


_WAYS: Final[tuple[_Way, ...]] = (
    _way("food container recipe variation menu", r"(?P<a>[a-z]+(?: [a-z]+)*?)[ \t]*:[ \t]*(?P<b>.+)", r"\g<a> \g<b>"),
    _way("food container", r"price[ \t]+\$?(?P<a>[\d.]+)[ \t]*(?:/|an?|for (?:an? |one ))[ \t]*(?P<b>\S.*)", r"price \g<a> per \g<b>"),
    _way("food container", r"(?:cost|costs)[ \t]+(?P<a>.+)", r"price \g<a>"),
    _way("container", r"\$(?P<a>[\d.]+)(?:[ \t]*(?:each|apiece))?", r"price \g<a> each"),
    _way("container", r"price[ \t]+\$?(?P<a>[\d.]+)", r"price \g<a> each"),
    _way("container", r"(?:capacity|volume|size)[ \t]+(?P<a>.+)", r"holds \g<a>"),
    _way("food recipe", r"credits?[ \t]+(?:none|no|zero|0)(?:[ \t]+credit)?", "credits nothing"),
    _way("food", r"allergens?[ \t]+(?:none|no|nothing)(?:[ \t]+of[ \t]+the[ \t]+nine)?|contains[ \t]+(?:none|nothing|no allergens)", "contains none of the nine"),
    _way("food", r"allergens?[ \t]+(?P<a>.+)", r"contains \g<a>"),
    _way("food", r"contains[ \t]+(?P<a>.+?),?[ \t]+and[ \t]+(?P<b>[^,]+)", r"contains \g<a>, \g<b>"),
    _way("food", r"(?:bought|sold)[ \t]+(?:by|in)[ \t]+(?P<a>.+)", r"pack \g<a>"),
    _way("recipe variation", r"makes?[ \t]+(?P<a>\d+)[ \t]+(?:servings?|portions?),?[ \t]+(?:of[ \t]+)?1[ \t]*(?:pieces?|each|ea)?(?:[ \t]+each)?", r"makes \g<a> portions of 1 each"),
    _way("recipe variation", r"makes?[ \t]+(?P<a>\d+)[ \t]+(?:servings?|portions?),[ \t]+(?P<b>.+?)(?:[ \t]+each)?", r"makes \g<a> portions of \g<b>"),
    _way("recipe variation", r"makes?[ \t]+(?P<a>\d+)[ \t]+servings?[ \t]*(?P<b>.*)", r"makes \g<a> portions \g<b>"),
    _way("recipe variation", r"(?:serves|servings?|portions|yields?)[ \t]+(?P<a>\d+)(?:[ \t]+(?:servings?|portions?|people|students|children))?", r"makes \g<a> portions"),
    _way("recipe variation", r"makes[ \t]+(?P<a>\d+)", r"makes \g<a> portions"),
    _way("recipe", r"(?:category|type)[ \t]+(?P<a>.+)", r"course \g<a>"),
    _way("recipe", r"(?:without|free of|free from|no)[ \t]+(?P<a>.+)", r"made without \g<a>"),
    _way("recipe", r"made[ \t]+without[ \t]+(?P<a>.+?),?[ \t]+(?:and|or)[ \t]+(?P<b>[^,]+)", r"made without \g<a>, \g<b>"),
    _way("recipe", r"(?:container|packed in|pack in)[ \t]+(?P<a>.+)", r"in \g<a>"),
    _way("recipe food", r"(?:shelf life|good for|lasts?)[ \t]+(?P<a>.+)", r"keeps \g<a>"),
    _way("recipe", r"(?:pinch|dash)[ \t]+(?:of[ \t]+)?(?P<a>.+)", r"to taste \g<a>"),
    _way("recipe", r"(?P<a>[^\d,]+?),?[ \t]+(?:as needed|to taste)", r"to taste \g<a>"),
    _way("variation", r"(?:replace|swap|substitute|exchange)[ \t]+(?P<a>.+?)[ \t]+(?:with|by)[ \t]+(?P<b>.+)", r"use \g<b> instead of \g<a>"),
    _way("variation", r"(?:swap|exchange)[ \t]+(?P<a>.+?)[ \t]+for[ \t]+(?P<b>.+)", r"use \g<b> instead of \g<a>"),
    _way("variation", r"substitute[ \t]+(?P<b>.+?)[ \t]+for[ \t]+(?P<a>.+)", r"use \g<b> instead of \g<a>"),
    _way("variation", r"(?P<b>.+?)[ \t]+instead[ \t]+of[ \t]+(?P<a>.+)", r"use \g<b> instead of \g<a>"),
    _way("variation", r"(?:remove|omit|without|leave off|delete|no|skip)[ \t]+(?P<a>.+)", r"leave out \g<a>"),
    _way("variation", r"(?:variation of|variant of|like|from)[ \t]+(?P<a>.+)", r"based on \g<a>"),
    _way("variation", r"(?P<a>(?:number|course|makes|in|for|process|credits|made without|keeps|serve with|tested|pans|batch at most|yields|weighs|loses|whole grain-rich|offers|tray for|grains by)\b.*)", r"change \g<a>"),
    _way("menu", r"(?P<a>sell[ \t]+.+?),[ \t]+(?P<b>\d+)[ \t]+at[ \t]+\$?(?P<c>[\d.]+)", r"\g<a>, \g<b>, at \g<c>"),
    _way("menu", r"(?P<a>sell[ \t]+.+?),?[ \t]+(?:at|for)[ \t]+\$?(?P<c>[\d.]+)", r"\g<a>, at \g<c>"),
    _way("menu", r"(?P<a>sell[ \t]+.+?),[ \t]*\$(?P<c>[\d.]+)", r"\g<a>, at \g<c>"),
    _way("menu", r"(?:week of|starting|begins|start)[ \t]+(?P<a>.+)", r"starts \g<a>"),
    _way("menu", r"meals[ \t]+(?P<a>[^,]+),[ \t]*(?P<b>\d+)", r"meals \g<a> \g<b>"),
    _way("menu", r"(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)\.?:?", ""),
    _way("menu", r"(?:ovs|offer vs\.? serve|offer v\.? serve)", "offer versus serve"),
    _way("menu", r"(?:offer|menu|item)[ \t]+(?P<a>.+)", r"serve \g<a>"),
    _way("menu", r"(?P<a>.+)", r"serve \g<a>"),
    _way("calendar", r"(?:no school|holiday|off)[ \t]+(?P<a>.+)", r"closed \g<a>"),
    _way("calendar", r"closed[ \t]+(?P<a>\S+)[ \t]*(?:-|through|thru|until)[ \t]*(?P<b>\S+)", r"closed \g<a> to \g<b>"),
)  # fmt: skip
"""Of which declarations, what is written, and what it is written as. The first that reads counts."""

_WEEKDAYS: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def meant_by(kind: str, line: str, reads: Callable[[str], bool]) -> Meant | None:
    """What a line that can't be read is meant to say, as far as it says it; `reads` tells whether a line is the notation's."""
    text = " ".join(line.split()).rstrip(";")
    for start in dict.fromkeys((text, with_plain_dates(text), _plain_money(with_plain_dates(text)))):
        if start != text and reads(start):
            return Meant((start,))
        for one in _written(kind, start):
            if one != text and reads(one):
                return Meant((one,))
    return _several(kind, with_plain_dates(text), reads)


def _plain_money(text: str) -> str:
    return re.sub(r"\$[ \t]*(?=\d)", "", text)


def _written(kind: str, text: str) -> Iterator[str]:
    for kinds, pattern, written in _WAYS:
        match = pattern.fullmatch(text) if kind in kinds else None
        if match is None:
            continue
        yield " ".join((match.expand(written) if written else _weekday(match[0])).split())


def _weekday(short: str) -> str:
    return next(day for day in _WEEKDAYS if day.startswith(short.casefold().rstrip(".:")[:3]))


def _several(kind: str, text: str, reads: Callable[[str], bool]) -> Meant | None:
    """Lines that say more than one line may, or leave open which is meant."""
    head, _, rest = text.partition(" ")
    parts = [part.strip() for part in rest.split(",")]
    if kind == "food" and head.casefold() in ("weighs", "price") and len(parts) > 1:
        lines = tuple(f"{head.lower()} {part}" for part in parts)
        if all(map(reads, lines)):
            return Meant(lines, together=True, why="a line for each measure")
    life = re.fullmatch(r"(?:keeps|shelf life|good for|lasts?)[ \t]+(\d+)[ \t]*(?:days?|d)", text, re.IGNORECASE)
    if kind in ("food", "recipe") and life:
        places = ("cold", "frozen", "dry", "opened") if kind == "food" else ("cold", "frozen")
        return Meant(tuple(f"keeps {life[1]} d {place}" for place in places), why="where it is kept decides")
    if kind == "container" and head.casefold().startswith("compartment"):
        lines = tuple(f"holds {part}" for part in parts)
        if all(map(reads, lines)):
            return Meant(
                lines,
                why="a container has one room; declare a container for each, and pack the others `on the side in` theirs",
            )
    return None
