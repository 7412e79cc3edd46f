"""A cell of a table as an amount of the notation: what it says, what stood beside it, and why it is not sure."""

from __future__ import annotations

import re
from typing import Final

from recipelang.text.digits import NUMBER
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.numbers import UnreadableNumber, read_number, shortened
from recipelang.units.table import COUNT, MASS, OUNCE, PACK, VOLUME, WORD

_BRACKETED: Final = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]\s*")
_ABOUT: Final = re.compile(r"^(?:about|approx(?:imately|\.)?|ca\.?|around|~)\s*", re.IGNORECASE)
_PLUS: Final = re.compile(r"\s+(?:plus|and)\s+|\s*\+\s*|\s*,\s+(?=[\d.])", re.IGNORECASE)
_TO_TASTE: Final = re.compile(r"(?:to|as) (?:taste|needed|desired|required)", re.IGNORECASE)
_THOUSANDS: Final = re.compile(r"(?<![\d.,])(\d{1,3}(?:,\d{3})+)(?![\d,])")
_EMPTY: Final = frozenset({"", "-", "–", "—", "--", "n/a", "na"})
_SURE: Final = frozenset({MASS, VOLUME, COUNT, PACK})

WEIGHT_COLUMN: Final = "weight"
MEASURE_COLUMN: Final = "measure"


class CellAmount(Record):
    """What a cell says of an amount."""

    text: str = ""
    """The amount in the notation; empty where none is sure enough to be written."""
    quantity: Quantity | None = None
    reasons: tuple[str, ...] = ()
    to_taste: bool = False

    @property
    def dimension(self) -> str:
        return self.quantity.dimension if self.quantity is not None else ""


NOTHING: Final = CellAmount()


def read_cell(text: str, unit: str = "", column: str = "") -> CellAmount:
    """What a cell says. `unit` is that of its column or its neighbor, for a bare number; `column` what the table says
    that it holds."""
    plain = _plain(text)
    if plain.casefold() in _EMPTY:
        return NOTHING
    if _TO_TASTE.fullmatch(plain):
        return CellAmount(to_taste=True, reasons=() if plain.casefold() == "to taste" else (f"`{plain}` is no amount",))
    found = _read(plain, unit)
    if found is None:
        return CellAmount(reasons=(f"no amount can be read from `{shortened(text, 60)}`",))
    return _under(found, column)


def is_amount(text: str) -> bool:
    """Whether a text is a sure amount and nothing else."""
    found = _read(_plain(text), "")
    return found is not None and not found.reasons


def is_number(text: str) -> bool:
    """Whether a text is a bare number."""
    return _number(_plain(text))


def _plain(text: str) -> str:
    """A text with the signs of word processors as plain ones."""
    text = text.replace("\u2044", "/").replace("\u2212", "-").replace("°", " °")
    return _THOUSANDS.sub(lambda match: match[1].replace(",", ""), " ".join(text.split()))


def _number(text: str) -> bool:
    try:
        return read_number(text) >= 0
    except UnreadableNumber:
        return False


def _read(text: str, unit: str) -> CellAmount | None:
    found = _exactly(text, unit)
    if found is not None:
        return found
    reasons: list[str] = []
    aside = [part.strip() for part in _BRACKETED.findall(text)]
    rest = " ".join(_BRACKETED.sub(" ", text).split())
    reasons += [f"beside it stood ({part})" for part in aside]
    plain = _ABOUT.sub("", rest)
    if plain != rest:
        reasons.append("it is only about so much")
    found = _exactly(plain, unit) or _exactly(_PLUS.sub(" ", plain), unit)
    return None if found is None else found._replace(reasons=(*reasons, *found.reasons))


def _exactly(text: str, unit: str) -> CellAmount | None:
    """A text that is an amount from its first letter to its last."""
    reasons: tuple[str, ...] = ()
    if _number(text):
        text = f"{text} {unit or 'each'}"
        reasons = () if unit else ("no unit stood beside the number",)
    reading = read_amount(text)
    quantity = reading.quantity
    if quantity is None:
        return None
    if quantity.dimension == WORD:
        reasons = (*reasons, f"`{quantity.unit.name}` is no unit that is known; the food has to say what one is")
    elif quantity.dimension not in _SURE:
        return None
    if reading.odd:
        reasons = (*reasons, "it reads like two numbers")
    return CellAmount(text, quantity, reasons)


def _under(found: CellAmount, column: str) -> CellAmount:
    """What a cell says, held against what its column is said to hold."""
    quantity = found.quantity
    if quantity is None or not column:
        return found
    if column == MEASURE_COLUMN and quantity.unit is OUNCE:
        reason = "it stands under a measure, and `oz` is a weight; if fluid ounces are meant, write `fl oz`"
    elif column == MEASURE_COLUMN and quantity.dimension == MASS:
        reason = "a weight stands where a measure should"
    elif column == WEIGHT_COLUMN and quantity.dimension == VOLUME:
        reason = "a measure stands where a weight should"
    else:
        return found
    return found._replace(reasons=(*found.reasons, reason))


# ---- lines of prose ------------------------------------------------------------------------------------------------

_FIRST: Final = re.compile(rf"{NUMBER}")
_RANGE: Final = re.compile(rf"{NUMBER}\s*(?:to|or|[-–—])\s*{NUMBER}(?:\s+|$)")


def leading_amount(text: str) -> tuple[str, str]:
    """The amount that a line begins with and the rest of it; a range with its unit, which is none; a bare number where no
    unit follows; else nothing and all."""
    words = _plain(text).split()
    if not words or not _FIRST.match(words[0]):
        return "", " ".join(words)
    for count in range(min(len(words), 9), 0, -1):
        amount = _PLUS.sub(" ", " ".join(words[:count]))
        quantity = read_amount(amount).quantity
        if quantity is not None and quantity.dimension in _SURE:
            end = count + (count < len(words) and words[count].casefold() == "of")
            return amount, " ".join(words[end:])
    ranged = _RANGE.match(" ".join(words))
    if ranged is not None:
        unit, _, rest = " ".join(words)[ranged.end() :].partition(" ")
        return f"{ranged[0].strip()} {unit}", rest
    for count in (2, 1):
        if len(words) > count and _number(" ".join(words[:count])):
            return " ".join(words[:count]), " ".join(words[count:])
    return "", " ".join(words)


def trailing_amount(text: str) -> tuple[str, str]:
    """The amount that a line ends with and what stands before it; else nothing and all."""
    words = _plain(text).split()
    for count in range(min(len(words) - 1, 8), 1, -1):
        end = " ".join(words[-count:])
        quantity = read_amount(end).quantity if _FIRST.match(words[-count]) else None
        if quantity is not None and quantity.dimension in _SURE:
            return end, " ".join(words[:-count]).rstrip(" -–—:,.")
    return "", " ".join(words)
