"""Short texts about what a name means: a recipe, a food, a container, a unit. Every figure is that of the outputs."""

from __future__ import annotations

from collections.abc import Iterable

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import kind_of
from recipelang.facts.food.as_purchased import item_of, items_above
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.food import food_of
from recipelang.facts.food.labels import allergen_statement_of
from recipelang.facts.food.nutrition import nutrition_of
from recipelang.facts.food.purchase import purchase_of
from recipelang.facts.food.safety import safety_of
from recipelang.facts.recipe.batch import measures_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.derivation import credit_text
from recipelang.model.dates import day_text
from recipelang.model.food import CreditLine, Labels, Safety
from recipelang.model.measures import EACH_NODE, Measures
from recipelang.model.names import PANTRY, Ref
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.columns import table
from recipelang.output.recipe_text import INGREDIENTS, dollars, recipe_sections
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, fluid_ounces_text, mass_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text, number_text
from recipelang.units.table import MASS, VOLUME

UNKNOWN = "unknown"


class Card(Record):
    """A title and the lines below it, set in columns."""

    title: str
    lines: tuple[str, ...]


def card_of(facts: Facts, ref: Ref) -> Card | None:
    """What a reference means; None for what has no figures of its own."""
    kind = kind_of(facts, ref)
    if kind in ("recipe", "variation"):
        return recipe_card(facts, ref)
    if kind == "food":
        return food_card(facts, ref)
    if kind == "container":
        return container_card(facts, ref)
    return None


def recipe_card(facts: Facts, ref: Ref) -> Card:
    """All figures of a portion; the longest list stands last."""
    first, *rest = recipe_sections(facts, ref, None, "portion")
    lines = [*first.lines]
    shown = [section for section in rest if section.heading != INGREDIENTS]
    for section in sorted(shown, key=lambda section: section.heading.startswith("Nutrients")):
        lines += ["", section.heading, *section.lines]
    return Card(first.heading, tuple(lines if first.lines else lines[1:]))


# ---- foods -----------------------------------------------------------------------------------------------------------


def food_card(facts: Facts, ref: Ref) -> Card:
    """What a food credits, holds, weighs and costs, and who says so."""
    food = food_of(facts, ref)
    rows = [
        *(["also called", text] for text in [", ".join(food.also_called)] if text),
        *(["credits", text] for text in credit_lines(facts, ref)),
        *allergen_rows(allergen_statement_of(facts, ref)),
        ["weighs", "; ".join(weights(measures_of(facts, ref))) or UNKNOWN],
        ["price", price_text(facts, ref)],
        ["calories", _calories(facts, ref)],
        ["safety", _safety(safety_of(facts, ref))],
        ["evidence", food.evidence_text or "none stated"],
    ]
    where = "the built-in pantry" if ref.startswith(PANTRY) else "the library"
    return Card(f"{food.name}: a food of {where}", (*table(rows), f"  {ALLERGEN_CAUTION}"))


def credit_lines(facts: Facts, ref: Ref) -> list[str]:
    """What a food credits, a text for each of its lines; that it says nothing is said as unknown."""
    crediting = crediting_of(facts, ref)
    found = [_credit(line) for line in crediting.lines]
    if crediting.group:
        found.append(f"as grain, by weight, group {crediting.group}")
    share = crediting.creditable
    if share is not None and share.share is not None:
        found.append(f"as grain, {decimal_text(share.share * 100, 1)}% of its weight creditable")
    elif share is not None and share.grams is not None and share.per is not None:
        found.append(f"as grain, {number_text(share.grams)} g creditable per {_per(share.per)}")
    if crediting.broken:
        found.append(f"{UNKNOWN}: a line of it can't be read")
    if found:
        return found
    item = item_of(facts, ref)
    if item is not None:
        return [f"{_credit(line)}, through {food_of(facts, item.ref).name}" for line in item.lines] or [UNKNOWN]
    return [f"{UNKNOWN}: it says nothing of credits"] if crediting.says_nothing else ["nothing"]


def _credit(line: CreditLine) -> str:
    words = [f"{credit_text(line.amount, line.component)} {line.component.title} per {_per(line.per)}"]
    words[0] += f" {line.basis}" if line.basis else ""
    words += [word for word in (line.liquid, line.served) if word]
    if line.needs is not None:
        quantity, what = line.needs
        words.append(f"with at least {quantity_text(quantity)} {what}")
    return ", ".join(words)


def _per(quantity: Quantity) -> str:
    return quantity.unit.name if quantity.value == 1 else quantity_text(quantity)


def allergen_rows(labels: Labels) -> list[list[str]]:
    """A food's allergen statement; a food that makes none is unknown, not free of any."""
    rows = [
        [verb, ", ".join(f"{name}: {', '.join(kinds)}" if kinds else name for name, kinds in stated)]
        for verb, stated in (("contains", labels.contains), ("may contain", labels.may_contain))
        if stated
    ]
    if not labels.stated or labels.broken:
        rows.append(["allergens", f"{UNKNOWN}: it makes no statement that can be read"])
    elif not rows:
        rows.append(["contains", "none of the nine is stated"])
    if labels.read:
        rows.append(["label read", day_text(labels.read)])
    return rows


def weights(measures: Measures) -> list[str]:
    """What a cup and a piece weigh, as far as anything says so."""
    found: list[str] = []
    for node, name in ((VOLUME, "cup"), (EACH_NODE, "each")):
        rate = measures.rate(node, MASS)
        if rate is not None:
            found.append(f"{_grams(rate[0])} ({mass_text(rate[0])}) per {name}")
    return found


def _grams(grams: Fraction) -> str:
    return f"{decimal_text(grams, 0 if grams >= 10 else 1)} g"


def price_text(facts: Facts, ref: Ref) -> str:
    """A food's price, its own or that of the item it is cut from."""
    purchase = purchase_of(facts, ref)
    if purchase.prices:
        return "; ".join(f"{dollars(price)} per {_per(per)}" for price, per in purchase.prices)
    for above, item in items_above(facts, ref):
        bought = purchase_of(facts, above)
        if bought.price is not None and bought.per is not None:
            return f"{dollars(bought.price)} per {_per(bought.per)} of {item.name}"
    return UNKNOWN


def _calories(facts: Facts, ref: Ref) -> str:
    nutrition = nutrition_of(facts, ref)
    value = None if nutrition is None else dict(nutrition.values).get("calories")
    if nutrition is None or value is None:
        return UNKNOWN
    return f"{decimal_text(value, 0)} calories per {_per(nutrition.per)}"


def _safety(safety: Safety) -> str:
    words = [f"arrives {safety.arrives}{', frozen' if safety.frozen else ''}"] if safety.arrives else []
    if safety.tcs is not None:
        words.append("needs time and temperature control" if safety.tcs else "needs no control")
    words += [f"keeps {quantity_text(time)} {place}" for place, time in safety.keeps]
    return "; ".join(words) or UNKNOWN


# ---- containers ------------------------------------------------------------------------------------------------------


def container_card(facts: Facts, ref: Ref) -> Card:
    """What a container holds, and what one costs."""
    found = container_of(facts, ref)
    rows = [
        ["holds", UNKNOWN if found.holds is None else fluid_ounces_text(found.holds)],
        ["room", UNKNOWN if found.room is None else f"{fluid_ounces_text(found.room)} below its headspace"],
        ["price", UNKNOWN if found.price is None else f"{dollars(found.price)} each"],
        *(["fits", f"{number_text(fit.number)} of {fit.name}"] for fit in found.fits),
    ]
    return Card(f"{found.name}: a container", tuple(table(rows)))


def in_brief(parts: Iterable[str]) -> str:
    """Figures side by side on one line."""
    return " · ".join(part for part in parts if part)
