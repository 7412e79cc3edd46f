"""What could stand at a cursor: the offers, and those that are fixed words, units and components."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe
from recipelang.facts.recipe.batch import measures_of
from recipelang.model.components import SPELLINGS, read_component
from recipelang.model.measures import EACH_NODE, Measures, node_of
from recipelang.model.names import Ref
from recipelang.syntax.forms import FORMS
from recipelang.text.digits import NUMBER
from recipelang.text.record import Record
from recipelang.text.utensils import UTENSIL_PATTERN, UTENSILS
from recipelang.units.amount import mass_text
from recipelang.units.numbers import decimal_text
from recipelang.units.table import (
    BATCH_UNIT,
    CUP,
    DAY,
    DOZEN,
    EACH,
    FLUID_OUNCE,
    GALLON,
    GRAM,
    HOUR,
    KILOGRAM,
    LITER,
    MASS,
    MILLILITER,
    MINUTE,
    OUNCE,
    PINT,
    PORTION_UNIT,
    POUND,
    QUART,
    SECOND,
    TABLESPOON,
    TEASPOON,
    VOLUME,
    Unit,
)

KEYWORD, VALUE, UNIT, COMPONENT = "keyword", "value", "unit", "component"
FOOD, RECIPE, CONTAINER, NAME, RULE = "food", "recipe", "container", "name", "rule"

WEIGHTS: Final = (POUND, OUNCE, GRAM, KILOGRAM)
VOLUMES: Final = (CUP, TABLESPOON, TEASPOON, FLUID_OUNCE, PINT, QUART, GALLON, MILLILITER, LITER)
COUNTS: Final = (EACH, DOZEN)
TIMES: Final = (MINUTE, HOUR, SECOND, DAY)


class CompletionItem(Record):
    """One thing that could stand at the cursor. `start` is the offset in the file where what it replaces begins."""

    label: str
    kind: str
    start: int
    text: str = ""
    """What is put in, where it is not the label."""
    fields: tuple[tuple[int, int], ...] = ()
    """Stretches of the text that the author goes through and fills in."""
    detail: str = ""
    subject: str = ""
    """What its documentation speaks of, for `documenting`."""

    @property
    def inserted(self) -> str:
        return self.text or self.label


class CompletionItems(Record):
    """All offers, best first. An incomplete list is to be asked for anew with more letters."""

    offers: tuple[CompletionItem, ...] = ()
    is_complete: bool = True


def words(start: int, texts: Iterable[str], detail: str = "", kind: str = VALUE) -> list[CompletionItem]:
    """Fixed words."""
    return [CompletionItem(text, kind, start, detail=detail) for text in texts]


def forms(kind: str, start: int, wanted: Iterable[str]) -> list[CompletionItem]:
    """Forms of lines: the example of each, with its values to be filled in."""
    from recipelang.editing.signature_help import values_of

    found: list[CompletionItem] = []
    for phrase in wanted:
        example = FORMS[kind][phrase]
        fields = tuple(values_of(phrase, example))
        found.append(CompletionItem(phrase, KEYWORD, start, example, fields, example, f"form {kind} {phrase}"))
    return found


def components(start: int) -> list[CompletionItem]:
    """Meal components and vegetable subgroups."""
    found: list[CompletionItem] = []
    for text in SPELLINGS:
        component = read_component(text)
        assert component is not None
        found.append(CompletionItem(text, COMPONENT, start, detail=f"credited in {component.unit}"))
    return found


# ---- units -----------------------------------------------------------------------------------------------------------


def plain_units(start: int, units: Iterable[Unit]) -> list[CompletionItem]:
    """Units whatever they are of."""
    return [CompletionItem(unit.name, UNIT, start, subject=f"unit {unit.name}") for unit in units]


def utensils(start: int) -> list[CompletionItem]:
    """What serves by the fluid ounces on its handle, behind their number."""
    return words(start, [f"oz {name}" for name in UTENSILS], "by the fluid ounces on its handle", UNIT)


def units_of(facts: Facts, ref: Ref | None, start: int) -> list[CompletionItem]:
    """Units that an amount of a food or recipe can be given in: weight, and what its own lines lead to. Of something
    unknown, all."""
    if ref is None:
        every = plain_units(start, (*WEIGHTS, *VOLUMES, *COUNTS, PORTION_UNIT, BATCH_UNIT))
        return [*every, *utensils(start)]
    measures = measures_of(facts, ref)
    found: list[CompletionItem] = []
    for unit in (*WEIGHTS, *VOLUMES, *COUNTS):
        node = node_of(unit)
        if node == MASS or measures.knows(node):
            found.append(
                CompletionItem(
                    unit.name, UNIT, start, detail=_weight(measures, unit), subject=f"unit {unit.name} {ref}"
                )
            )
    if is_recipe(facts, ref):
        found += plain_units(start, (PORTION_UNIT, BATCH_UNIT))
    if measures.knows(VOLUME):
        found += utensils(start)
    own = {node for rate in measures.rates for node in (rate.source, rate.target)}
    for node in sorted(own - {MASS, VOLUME, EACH_NODE, "portion", "batch"}):
        rate = measures.rate(node, MASS)
        detail = f"{mass_text(rate[0])} of it" if rate is not None else "its own word; weight unknown"
        found.append(CompletionItem(node, UNIT, start, detail=detail))
    return found


def _weight(measures: Measures, unit: Unit) -> str:
    if node_of(unit) == MASS:
        return ""
    rate = measures.rate(node_of(unit), MASS)
    return "weight unknown" if rate is None else f"{decimal_text(rate[0] * unit.factor, 1)} g of it"


# ---- amounts that are being typed ------------------------------------------------------------------------------------

_AMOUNT: Final = re.compile(
    rf"{NUMBER}[ \t]*(?:fl\.?[ \t]*oz|#[ \t]*\d+[ \t]+[a-z]+|\d*[ \t]*oz[ \t]+{UTENSIL_PATTERN}|oz[ \t]+eq|[^\W\d_]+)\.?"
    r"(?:[ \t]+by[ \t]+weight)?(?P<end>[ \t]*[=|][ \t]*|[ \t]+)",
    re.IGNORECASE,
)
_UNIT: Final = re.compile(rf"{NUMBER}[ \t]+(?P<unit>[^\W\d_]*(?:[ \t][^\W\d_]*)?)$")


class Typing(Record):
    """How far an amount has been typed: `number` nothing or digits, `unit` a unit is due, `name` what it is of is due.
    `at` is where the unit or the name begins in the text."""

    stage: str
    at: int


def typing(text: str) -> Typing:
    """How far a text that begins with an amount has been typed."""
    at = 0
    is_open = True
    while (match := _AMOUNT.match(text, at)) is not None:
        at = match.end()
        is_open = "=" in match["end"] or "|" in match["end"]
    rest = _UNIT.match(text, at)
    if rest is not None:
        return Typing("unit", rest.start("unit"))
    if at and not is_open and re.match(rf"{NUMBER}$", text[at:]) is None:
        return Typing("name", at)
    return Typing("number", at)
