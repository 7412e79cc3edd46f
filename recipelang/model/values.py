"""Turning a tree's words into values, with one problem for each word that says nothing."""

from __future__ import annotations

import re
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.model import vocabulary
from recipelang.syntax.tree import Problem, Word
from recipelang.text.digits import GLYPHS, LETTER
from recipelang.units.amount import Quantity, Reading, read_amount
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number

Problems = list[Problem]

_CREDIT: Final = re.compile(
    r"(?P<number>.*?)[ \t]*(?P<unit>oz\.?[ \t]*eq\.?|ounce[ \t]+equivalents?|fl\.?[ \t]*oz|oz|cups?|tbsp|c)$",
    re.IGNORECASE,
)
_CONDITION: Final = re.compile(rf"(?P<amount>[\d./ \t{GLYPHS}]+[ \t]*{LETTER}+)[ \t]+(?P<name>.+)")


def quantity_of(word: Word, problems: Problems, number_optional: bool = False) -> Quantity | None:
    """The quantity an amount says; None with a problem where it says none."""
    reading = read_amount(word.text, number_optional)
    if reading.problem is not None:
        _add_problem(word, reading, problems)
        return None
    return reading.quantity


def choice_of(word: Word, choices: tuple[str, ...], what: str, problems: Problems) -> str:
    """The one of some fixed phrases that a word is, in small letters; empty with a problem where it is none. `what` is
    what they are, as in `a course`."""
    phrase = " ".join(word.text.casefold().split())
    if phrase in choices:
        return phrase
    near = nearest(phrase, choices, 1)
    problems.append(
        Problem(
            word.start,
            word.end,
            "syntax",
            f"`{word.text}` is not {what} that the notation knows.",
            near[0] if near else None,
            f"write one of: {', '.join(choices)}",
        )
    )
    return ""


def arrival_of(word: Word, problems: Problems) -> str:
    """How a food arrives; empty with a problem where that is not said. What is only `frozen` may be raw or cooked."""
    if word.text.casefold() != "frozen":
        return choice_of(word, vocabulary.ARRIVALS, "a way foods arrive", problems)
    sentence = "Frozen is how the food is kept; whether it is raw or cooked is not said."
    forms = ("cooked", "ready to eat", "raw poultry", "raw ground meat", "raw produce")
    shown = ", ".join(f"`{form}, frozen`" for form in forms)
    problems.append(Problem(word.start, word.end, "syntax", sentence, help=f"write what it is in front: {shown}"))
    return ""


def _add_problem(word: Word, reading: Reading, problems: Problems) -> None:
    problem = reading.problem
    assert problem is not None
    problems.append(Problem(word.start, word.end, problem.rule, problem.sentence, problem.instead, problem.help))


def number_of(word: Word, problems: Problems, zero: bool = False) -> Fraction | None:
    """A plain number above zero (or from zero on); None with a problem otherwise."""
    if "$" in word.text:
        plain = word.text.replace("$", "").strip()
        problems.append(
            Problem(word.start, word.end, "syntax", "A price is written without its dollar sign.", plain,
                    f"write `{plain}`")
        )  # fmt: skip
        return None
    try:
        value = read_number(word.text.strip())
    except UnreadableNumber as error:
        problems.append(Problem(word.start, word.end, "impossible-amount", error.sentence))
        return None
    if "," in word.text:
        plain = word.text.replace(",", "")
        problems.append(
            Problem(word.start, word.end, "syntax", f"`{word.text}` has a comma.", plain, f"write `{plain}`")
        )
        return None
    if value < 0 or (value == 0 and not zero):
        problems.append(Problem(word.start, word.end, "impossible-amount", f"`{word.text}` must be more than nothing."))
        return None
    return value


def share_of(word: Word, problems: Problems) -> Fraction | None:
    """A percentage between 0 and 100 as a share of one."""
    text = word.text.replace("%", "").strip()
    try:
        value = read_number(text) / 100
    except UnreadableNumber as error:
        problems.append(Problem(word.start, word.end, "impossible-amount", error.sentence))
        return None
    if not 0 < value <= 1:
        problems.append(
            Problem(word.start, word.end, "impossible-amount", f"`{word.text}` is not a share between 0 and 100%.")
        )
        return None
    return value


def credit_of(word: Word, problems: Problems) -> tuple[Fraction, str] | None:
    """A credited amount and its unit, `oz eq` or `cup`; fluid ounces and tablespoons become cups."""
    match = _CREDIT.match(word.text)
    number = match["number"] if match else word.text
    try:
        value = read_number(number.strip())
    except UnreadableNumber as error:
        problems.append(Problem(word.start, word.end, "impossible-amount", error.sentence))
        return None
    if "," in number:
        plain = word.text.replace(",", "")
        problems.append(
            Problem(word.start, word.end, "syntax", f"`{number.strip()}` has a comma.", plain, f"write `{plain}`")
        )
        return None
    if value <= 0:
        problems.append(Problem(word.start, word.end, "impossible-amount", f"`{word.text}` credits nothing.",
                                help="write `credits nothing` if that is meant"))  # fmt: skip
        return None
    unit = " ".join(match["unit"].casefold().replace(".", "").split()) if match else "cup"
    if unit.startswith("fl"):
        return value / 8, "cup"
    if unit == "tbsp":
        return value / 16, "cup"
    if unit in ("cup", "cups", "c"):
        return value, "cup"
    if unit == "oz":
        instead = f"{number.strip()} oz eq"
        problems.append(
            Problem(word.start, word.end, "syntax", f"`{word.text}`: meats, meat alternates and grains credit in ounce "
                    "equivalents.", instead, f"write `{instead}`")
        )  # fmt: skip
        return None
    return value, "oz eq"


def condition_of(word: Word, problems: Problems) -> tuple[Quantity, str] | None:
    """The amount and the nutrient of `5 g protein`."""
    match = _CONDITION.match(word.text)
    if match is None:
        problems.append(Problem(word.start, word.end, "syntax", f"`{word.text}` is not an amount of a nutrient.",
                                help="write it like `with at least 5 g protein`"))  # fmt: skip
        return None
    quantity = quantity_of(Word(match["amount"], word.start), problems)
    return None if quantity is None else (quantity, match["name"].strip().casefold())


def items_of(word: Word | None, problems: Problems) -> int | None:
    """As how many food items something counts; None where nobody says, or with a problem for what is no number of them."""
    number = number_of(word, problems) if word is not None else None
    if number is None or word is None:
        return None
    if number.denominator != 1:
        problems.append(
            Problem(word.start, word.end, "impossible-amount", f"A food counts as whole items, not as {word.text}.",
                    help="write how many items it counts as")
        )  # fmt: skip
        return None
    return int(number)
