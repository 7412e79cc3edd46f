"""What stands behind a recipe's credits that a meal pattern asks for: how much of its meat alternate is pulses, of its
grain whole grain-rich or a dessert, which milks it pours, and which products in it have sugar limits of their own."""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.unknown import Gap, Total, total
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.food import food_of
from recipelang.facts.food.nutrition import nutrition_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.contributions import Contribution, is_pulse_food
from recipelang.facts.recipe.credits import Credits, all_contributions, credits_of
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.facts.recipe.nutrients import amount_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import GRAIN, MEAT, Component
from recipelang.model.food import Food
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.text.record import Record
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.table import BATCH

SATURATED: Final = "saturated fat"
FLAVORED: Final = "flavored"
UNFLAVORED: Final = "unflavored"


class Poured(Record):
    """A fluid milk that a serving offers. In a drink made with it, it is flavored, whatever it was."""

    name: str
    fat: str
    """Empty where the food does not say."""
    flavor: str


class Composition(Record):
    """Shares are of the component's sum in the first choices of a recipe; zero where nothing of it credits."""

    pulses: Fraction
    """Of the meat alternate."""
    pulse_ounces: Fraction
    """Exact ounce equivalents of it in a portion."""
    whole: Fraction
    """Of the grain: products that are whole grain-rich."""
    dessert: Fraction
    """Of the grain."""
    dessert_groups: frozenset[str]
    """Their groups in the grain table; an empty word for one that names none."""
    milks: tuple[Poured, ...]
    products: tuple[Ref, ...]
    """Cereals, yogurts and flavored milks in it, however far down."""


NO_COMPOSITION: Final = Composition(ZERO, ZERO, ZERO, ZERO, frozenset(), (), ())


@fact
def composition_of(facts: Facts, ref: Ref) -> Composition:
    """The kinds of a recipe."""
    recipe = recipe_of(facts, ref)
    lines = lines_of(facts, ref)
    credits = credits_of(facts, ref)
    if _must_look(facts, recipe, lines, credits):
        return composition_of_dish(facts, recipe, lines, all_contributions(facts, ref))
    whole = Fraction(int(credits.whole_grain_rich is True))
    return Composition(ZERO, ZERO, whole, ZERO, frozenset(), _milks(facts, recipe, lines), _products(facts, lines))


def _must_look(facts: Facts, recipe: Recipe, lines: tuple[Measured, ...], credits: Credits) -> bool:
    """Whether the contributions must be gone through: most dishes hold no pulses that could be a meat alternate, no
    dessert, and no grain of two kinds."""
    names = {found.component.name for found in credits.sums}
    if GRAIN in names and (recipe.dessert or recipe.course == "dessert"):
        return True
    mixed = credits.whole_grain_rich is False
    for measured in lines if names & {GRAIN, MEAT} else ():
        if measured.ref is None:
            continue
        if not measured.is_food:
            return True
        if MEAT in names and is_pulse_food(facts, measured.ref):
            return True
        if GRAIN in names:
            crediting = crediting_of(facts, measured.ref)
            if crediting.dessert or (mixed and (crediting.whole_grain_rich or crediting.creditable is not None)):
                return True
    return False


def composition_of_dish(
    facts: Facts, recipe: Recipe, lines: tuple[Measured, ...], parts: tuple[Contribution, ...]
) -> Composition:  # fmt: skip
    """The kinds of a recipe that may be none of the library's, from its contributions."""
    first = [part for part in parts if part.at < 0 or not lines[part.at].line.alternative]
    groups: set[str] = set()
    dessert = ZERO
    pulses = ZERO
    for part in first:
        if part.component.name == MEAT:
            pulses += part.amount * _pulse_share(facts, lines, part)
        elif part.component.name == GRAIN:
            share, found = _dessert(facts, recipe, lines, part)
            dessert += part.amount * share
            groups |= found
    grain, meat = _sum(first, GRAIN), _sum(first, MEAT)
    return Composition(
        pulses / meat if meat else ZERO, pulses / recipe.portions if recipe.portions else ZERO,
        _whole(facts, lines, first) / grain if grain else ZERO,
        dessert / grain if grain else ZERO, frozenset(groups), _milks(facts, recipe, lines), _products(facts, lines),
    )  # fmt: skip


def _sum(parts: list[Contribution], name: str) -> Fraction:
    return sum((part.amount for part in parts if part.component.name == name), ZERO)


def _inner(facts: Facts, lines: tuple[Measured, ...], part: Contribution) -> Composition | None:
    """The kinds of the recipe that a contribution comes from; None for a food, and for the dish as a whole."""
    inner = lines[part.at].ref if part.from_recipe else None
    return None if inner is None else composition_of(facts, inner)


def _pulse_share(facts: Facts, lines: tuple[Measured, ...], part: Contribution) -> Fraction:
    inner = _inner(facts, lines, part)
    if inner is not None:
        return inner.pulses
    ref = lines[part.at].ref if part.at >= 0 else None
    return Fraction(int(ref is not None and is_pulse_food(facts, ref)))


def _dessert(
    facts: Facts, recipe: Recipe, lines: tuple[Measured, ...], part: Contribution
) -> tuple[Fraction, set[str]]:
    """Which share of a grain is a dessert, and its groups. A dessert course that credits grain is one."""
    inner = _inner(facts, lines, part)
    if recipe.dessert or recipe.course == "dessert":
        group = recipe.grains_by.group if recipe.grains_by is not None else part.group
        return ONE, {group}
    if inner is not None:
        return inner.dessert, set(inner.dessert_groups) if inner.dessert else set()
    food = lines[part.at].food if part.at >= 0 else None
    if food is None:
        return ZERO, set()
    crediting = crediting_of(facts, food)
    return (ONE, {crediting.group or ""}) if crediting.dessert else (ZERO, set())


def _whole(facts: Facts, lines: tuple[Measured, ...], first: list[Contribution]) -> Fraction:
    """The grain of products that are at least half whole grain; the lines of one scratch product are judged together."""
    products: dict[int, list[tuple[Fraction, Fraction]]] = {}
    found = ZERO
    for part in first:
        if part.component.name != GRAIN:
            continue
        inner = _inner(facts, lines, part)
        if inner is not None:
            found += part.amount * inner.whole
            continue
        product = -1 if part.per_oz_eq is not None and not part.group else part.at
        products.setdefault(product, []).append((part.amount, part.whole))
    for members in products.values():
        amount = sum((one for one, _ in members), ZERO)
        if amount and sum((one * whole for one, whole in members), ZERO) * 2 >= amount:
            found += amount
    return found


# ---- milk ------------------------------------------------------------------------------------------------------------


def poured(food: Food) -> Poured | None:
    """A food as a milk that is poured; None for what is none, or credits none."""
    if food.milk is not None:
        return Poured(food.name, food.milk[0], food.milk[1] or UNFLAVORED)
    if any(line.component == Component("milk") for line in food.crediting.lines):
        return Poured(food.name, "", "")
    return None


def _milks(facts: Facts, recipe: Recipe, lines: tuple[Measured, ...]) -> tuple[Poured, ...]:
    """Milk that is drunk: on the side as it is, in a drink as a part of it."""
    found: dict[Poured, None] = {}
    for measured in lines:
        line = measured.line
        if measured.ref is None or line.optional or line.not_credited or line.to_taste:
            continue
        if not measured.is_food:
            found |= dict.fromkeys(composition_of(facts, measured.ref).milks)
            continue
        if not (recipe.is_drink or line.on_the_side):
            continue
        milk = poured(food_of(facts, measured.ref))
        if milk is None:
            continue
        found[milk if line.on_the_side else Poured(recipe.name, milk.fat, FLAVORED)] = None
    return tuple(found)


@fact
def milk_fat_of(facts: Facts, ref: Ref) -> Total:
    """Grams of saturated fat in a batch that are the fat of fluid milk that is drunk."""
    recipe = recipe_of(facts, ref)
    return milk_fat_of_dish(facts, recipe, lines_of(facts, ref))


def milk_fat_of_dish(facts: Facts, recipe: Recipe, lines: tuple[Measured, ...]) -> Total:
    """The same for a recipe that may be none of the library's. What is not known is not taken off."""
    parts: list[Fraction | Gap] = []
    for measured in lines:
        line = measured.line
        if measured.ref is None or measured.gap is not None or line.alternative:
            continue
        kept = 1 - line.discard
        if not measured.is_food:
            inner = milk_fat_of(facts, measured.ref)
            batches = measured.base(BATCH)
            if inner.known:
                parts.append(missing_measure(measured, BATCH) if batches is None else inner.known * batches * kept)
            parts.extend(inner.missing)
        elif (recipe.is_drink or line.on_the_side) and poured(food_of(facts, measured.ref)) is not None:
            parts.append(_saturated(facts, measured, kept))
    return total(parts)


def _saturated(facts: Facts, measured: Measured, kept: Fraction) -> Fraction | Gap:
    assert measured.ref is not None
    nutrition = nutrition_of(facts, measured.ref)
    stated = None if nutrition is None else dict(nutrition.values).get(SATURATED)
    if nutrition is None or stated is None:
        return Gap(measured.line.name, f"it does not state {SATURATED}", f"{SATURATED} …")
    amount = amount_of(measured, nutrition)
    return amount if isinstance(amount, Gap) else stated * amount * kept


# ---- products with limits of their own -------------------------------------------------------------------------------


def has_limit(food: Food) -> bool:
    """Whether a food is of a kind whose sugars are limited: cereal, yogurt, flavored milk."""
    return food.cereal or food.crediting.yogurt or (food.milk is not None and food.milk[1] == FLAVORED)


def _products(facts: Facts, lines: tuple[Measured, ...]) -> tuple[Ref, ...]:
    found: set[Ref] = set()
    for measured in lines:
        if measured.ref is None:
            continue
        if not measured.is_food:
            found.update(composition_of(facts, measured.ref).products)
        elif has_limit(food_of(facts, measured.ref)):
            found.add(measured.ref)
    return tuple(sorted(found))
