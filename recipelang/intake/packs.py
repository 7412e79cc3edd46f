"""Packs and prices as lists and labels print them: `4/5 lb`, `6 x #10 cans`, `$38.60 per case`."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split
from recipelang.text.record import Record
from recipelang.units.amount import read_amount
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.units.table import COUNT, MASS, PACK, VOLUME, WORD

_BY: Final = re.compile(r"^(?P<count>\d{1,4})\s*(?:/|x|×|\*|ct\b\s*/?)\s*(?P<each>.+)$", re.IGNORECASE)
_MONEY: Final = re.compile(
    r"^(?:US\$|USD|\$)?\s*(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?|\.\d+)\s*(?:USD|\$)?"
    r"\s*(?:(?:/|per|a)\s*(?P<per>[\w# ]+?)|(?P<word>each|ea))?\.?$",
    re.IGNORECASE,
)
_CASE: Final = frozenset({"case", "cs", "case price", "cases", "ca"})


class Pack(Record):
    line: str
    """The `pack` line; empty where none is sure enough to be written."""
    reason: str = ""


class Price(Record):
    number: str
    """As it is to be written, without a currency."""
    per: str
    """`per case`, `per lb`, `each`; empty where that is not said."""


def pack_of(text: str) -> Pack:
    """What a printed pack says."""
    plain = " ".join(text.split())
    match = _BY.match(plain)
    if match is not None:
        each = _unit_spelled(match["each"])
        quantity = read_amount(each).quantity
        word = f"pack {match['count']} packs of {each}"
        if quantity is not None and quantity.dimension in (MASS, VOLUME, COUNT) and is_food_line(word):
            return Pack(word, f"`{plain}` is taken for {match['count']} packs of {each}")
        cans = f"pack {match['count']} {each}"
        if re.match(r"^(?:#|no\.?)\s*\d", each, re.IGNORECASE):
            cans = cans if re.search(r"can", each, re.IGNORECASE) else f"{cans} cans"
            if is_food_line(cans):
                return Pack(cans, f"`{plain}` is taken for {match['count']} cans")
        return Pack("", f"no pack can be read from `{plain}`")
    line = f"pack {plain}"
    if not is_food_line(line):
        return Pack("", f"no pack can be read from `{plain}`")
    dimension = _first_dimension(plain)
    reason = (
        ""
        if dimension in (MASS, VOLUME, COUNT, PACK) or " of " in plain
        else f"nobody says how much one of `{plain}` holds"
    )
    return Pack(line, reason)


def price_of(text: str, title: str = "", has_pack: bool = False) -> tuple[Price | None, str]:
    """What a printed price says, and why it is not sure; `title` heads its column."""
    match = _MONEY.match(" ".join(text.split()))
    if match is None:
        return None, f"`{text}` is no price"
    number = match["number"].replace(",", "")
    try:
        value = read_number(number)
    except UnreadableNumber:
        return None, f"`{text}` is no price"
    if not value:
        return None, "a price of nothing is no price"
    said = (match["per"] or match["word"] or _per_of(title)).casefold().strip()
    if said in _CASE:
        return Price(number, "per case"), ""
    if said in ("each", "ea", "unit"):
        return Price(number, "each"), ""
    if said and is_food_line(f"price {number} per {said}"):
        return Price(number, f"per {said}"), ""
    if has_pack:
        return Price(number, "per case"), "the price is taken for that of the pack"
    return Price(number, ""), "nothing says what it is the price of"


def _per_of(title: str) -> str:
    """What a column of prices is headed as being the price of."""
    words = " ".join(title.casefold().replace("_", " ").split())
    match = re.search(r"(?:\bper|/)\s*([a-z#]+)", words)
    if match is not None:
        return match[1]
    if re.search(r"\bcase\b", words):
        return "case"
    return "each" if re.search(r"\beach\b", words) else ""


def _unit_spelled(text: str) -> str:
    """`5#` as pounds, `5LB` with its blank."""
    text = re.sub(r"^(\d+(?:\.\d+)?)\s*#$", r"\1 lb", text.strip())
    return re.sub(r"^(\d+(?:\.\d+)?)([A-Za-z])", r"\1 \2", text)


def _first_dimension(text: str) -> str:
    quantity = read_amount(text).quantity
    return quantity.dimension if quantity is not None else WORD


@lru_cache(maxsize=4096)
def is_food_line(line: str) -> bool:
    """Whether a line of a food is one that the notation reads, and nothing is left of it."""
    if "//" in line:
        return False
    body = parse(split(f"food x\n    {line}\n")[0])
    return not body.problems and len(body.lines) == 1 and not isinstance(body.lines[0], tree.Nutrition)
