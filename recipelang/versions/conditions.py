"""What a declaration may be or not, in words: `contains sesame`, `sodium > 400 mg`, `cost >= 1`, `credits fruit < 1/2`, or
the name of a rule that finds something in it."""

from __future__ import annotations

import re
from collections.abc import Callable
from operator import eq, ge, gt, le, lt
from typing import Final

from recipelang.facts.outcome.values import Credit, Need, Room, Sum, Value
from recipelang.findings.nearest import nearest
from recipelang.model.components import read_component
from recipelang.model.vocabulary import ALLERGEN_SPELLINGS, NUTRIENT_SPELLINGS, NUTRIENTS
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.versions.packing import Outcome

_COMPARED: Final = re.compile(r"(.*?)\s*(<=|>=|<|>|=)\s*([\d.,/ ]*\d)\s*([a-z ]*)$")
_OPERATORS: Final[dict[str, Callable[[Fraction, Fraction], bool]]] = {"<": lt, "<=": le, ">": gt, ">=": ge, "=": eq}
_OTHERS: Final = ("cost", "portion mass", "portion volume", "batch mass", "batch volume", "portions")


class UnknownCondition(ValueError):
    """Words that name nothing; the message says so in one sentence."""


class Condition(Record):
    """What is asked of a declaration."""

    text: str
    figure: str = ""
    rule: str = ""
    operator: str = ""
    number: Fraction = Fraction(0)

    def holds(self, outcome: Outcome | None) -> bool:
        """Whether a declaration is so; what is not known is not."""
        if outcome is None:
            return False
        if self.rule:
            return any(finding.rule == self.rule for finding in outcome.findings)
        value = outcome.figures.get(self.figure)
        if not self.operator:
            return value is not None
        size = number_of(value)
        return size is not None and _OPERATORS[self.operator](size, self.number)


def number_of(value: Value | None) -> Fraction | None:
    """The number that a figure comes to; None for one that is not known, or none."""
    if isinstance(value, Sum):
        return value.known
    if isinstance(value, Credit):
        return value.credited
    if isinstance(value, Need):
        return value.least
    if isinstance(value, Room):
        return value.filled
    return value if isinstance(value, Fraction) else None


def figure_named(text: str) -> str:
    """The name of a figure as it is kept, from how people write it. Raises UnknownCondition with the nearest."""
    words = " ".join(text.casefold().split())
    nutrient = NUTRIENT_SPELLINGS.get(words, words)
    if nutrient in NUTRIENTS:
        return f"nutrient {nutrient}"
    for verb in ("contains ", "may contain "):
        if words.startswith(verb):
            allergen = ALLERGEN_SPELLINGS.get(words.removeprefix(verb))
            if allergen is not None:
                return verb + allergen
    component = read_component(words.removeprefix("credits ").removeprefix("credit of "))
    if component is not None:
        return f"credits {component.title}"
    if words in _OTHERS or words == "allergens unknown" or words.startswith(("fill ", "keeps ")):
        return words
    near = nearest(words, [*NUTRIENTS, *_OTHERS, *(f"contains {one}" for one in ALLERGEN_SPELLINGS)], 1)
    hint = (
        f"; did you mean `{near[0]}`?"
        if near
        else "; there are cost, credits fruit, contains milk, sodium and the like"
    )
    raise UnknownCondition(f"no figure is called `{text}`{hint}")


def condition(text: str) -> Condition:
    """What words ask. Raises UnknownCondition."""
    words = " ".join(text.casefold().split())
    match = _COMPARED.fullmatch(words)
    if match is not None:
        try:
            number = read_number(match[3])
        except UnreadableNumber as error:
            raise UnknownCondition(f"`{text}`: {error}") from None
        return Condition(text, figure_named(match[1]), operator=match[2], number=number)
    if re.fullmatch(r"[a-z]+(?:-[a-z]+)+", words):
        from recipelang.rules.catalogue import ENGINE_RULES, names

        if words in names() or words in ENGINE_RULES:
            return Condition(text, rule=words)
    return Condition(text, figure_named(words))
