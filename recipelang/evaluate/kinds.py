"""What stands behind a recipe's credits that a meal pattern asks for: how much of its meat alternate is pulses, of its
grain whole grain-rich or a dessert, which milks it pours, and which products in it have sugar limits of their own."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from recipelang.evaluate.crediting import Contribution, is_pulse_food
from recipelang.evaluate.credits import Credits, all_contributions
from recipelang.evaluate.gaps import Gap, Total, total
from recipelang.evaluate.library import Library, Ref
from recipelang.evaluate.measured import Measured, missing_measure
from recipelang.evaluate.nutrients import amount_of, nutrition_of
from recipelang.model.components import GRAIN, MEAT, Component
from recipelang.model.food import Crediting, Food
from recipelang.model.recipe import Recipe
from recipelang.text.record import Record
from recipelang.units.table import BATCH

ZERO: Final = Fraction(0)
SATURATED: Final = "saturated fat"
FLAVORED: Final = "flavored"
UNFLAVORED: Final = "unflavored"


class Poured(Record):
    """A fluid milk that a serving offers. In a drink made with it, it is flavored, whatever it was."""

    name: str
    fat: str
    """Empty where the food does not say."""
    flavor: str


class Kinds(Record):
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


NO_KINDS: Final = Kinds(ZERO, ZERO, ZERO, ZERO, frozenset(), (), ())


def kinds(library: Library, ref: Ref) -> Kinds:
    """The kinds of a recipe."""
    recipe = library.recipe(ref)
    lines = library.lines(ref)
    credits: Credits = library.get("credits", ref)
    if _must_look(library, recipe, lines, credits):
        return kinds_of(library, recipe, lines, all_contributions(library, ref))
    whole = Fraction(int(credits.whole_grain_rich is True))
    return Kinds(ZERO, ZERO, whole, ZERO, frozenset(), _milks(library, recipe, lines), _products(library, lines))


def _must_look(library: Library, recipe: Recipe, lines: tuple[Measured, ...], credits: Credits) -> bool:
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
        if MEAT in names and is_pulse_food(library, measured.ref):
            return True
        if GRAIN in names:
            crediting: Crediting = library.get("crediting", measured.ref)
            if crediting.dessert or (mixed and (crediting.whole_grain_rich or crediting.creditable is not None)):
                return True
    return False


def kinds_of(
    library: Library, recipe: Recipe, lines: tuple[Measured, ...], parts: tuple[Contribution, ...]
) -> Kinds:  # fmt: skip
    """The kinds of a recipe that may be none of the library's, from its contributions."""
    first = [part for part in parts if part.at < 0 or not lines[part.at].line.alternative]
    groups: set[str] = set()
    dessert = ZERO
    pulses = ZERO
    for part in first:
        if part.component.name == MEAT:
            pulses += part.amount * _pulse_share(library, lines, part)
        elif part.component.name == GRAIN:
            share, found = _dessert(library, recipe, lines, part)
            dessert += part.amount * share
            groups |= found
    grain, meat = _sum(first, GRAIN), _sum(first, MEAT)
    return Kinds(
        pulses / meat if meat else ZERO, pulses / recipe.portions if recipe.portions else ZERO,
        _whole(library, lines, first) / grain if grain else ZERO,
        dessert / grain if grain else ZERO, frozenset(groups), _milks(library, recipe, lines), _products(library, lines),
    )  # fmt: skip


def _sum(parts: list[Contribution], name: str) -> Fraction:
    return sum((part.amount for part in parts if part.component.name == name), ZERO)


def _inner(library: Library, lines: tuple[Measured, ...], part: Contribution) -> Kinds | None:
    """The kinds of the recipe that a contribution comes from; None for a food, and for the dish as a whole."""
    if not part.from_recipe:
        return None
    found: Kinds = library.get("kinds", lines[part.at].ref)
    return found


def _pulse_share(library: Library, lines: tuple[Measured, ...], part: Contribution) -> Fraction:
    inner = _inner(library, lines, part)
    if inner is not None:
        return inner.pulses
    ref = lines[part.at].ref if part.at >= 0 else None
    return Fraction(int(ref is not None and is_pulse_food(library, ref)))


def _dessert(
    library: Library, recipe: Recipe, lines: tuple[Measured, ...], part: Contribution
) -> tuple[Fraction, set[str]]:
    """Which share of a grain is a dessert, and its groups. A dessert course that credits grain is one."""
    inner = _inner(library, lines, part)
    if recipe.dessert or recipe.course == "dessert":
        group = recipe.grains_by.group if recipe.grains_by is not None else part.group
        return Fraction(1), {group}
    if inner is not None:
        return inner.dessert, set(inner.dessert_groups) if inner.dessert else set()
    if part.at < 0:
        return ZERO, set()
    crediting = library.get("crediting", lines[part.at].ref)
    return (Fraction(1), {crediting.group or ""}) if crediting.dessert else (ZERO, set())


def _whole(library: Library, lines: tuple[Measured, ...], first: list[Contribution]) -> Fraction:
    """The grain of products that are at least half whole grain; the lines of one scratch product are judged together."""
    products: dict[int, list[tuple[Fraction, Fraction]]] = {}
    found = ZERO
    for part in first:
        if part.component.name != GRAIN:
            continue
        inner = _inner(library, lines, part)
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


def _milks(library: Library, recipe: Recipe, lines: tuple[Measured, ...]) -> tuple[Poured, ...]:
    """Milk that is drunk: on the side as it is, in a drink as a part of it."""
    found: dict[Poured, None] = {}
    for measured in lines:
        line = measured.line
        if measured.ref is None or line.optional or line.not_credited or line.to_taste:
            continue
        if not measured.is_food:
            found |= dict.fromkeys(library.get("kinds", measured.ref).milks)
            continue
        if not (recipe.is_drink or line.on_the_side):
            continue
        milk = poured(library.food(measured.ref))
        if milk is None:
            continue
        found[milk if line.on_the_side else Poured(recipe.name, milk.fat, FLAVORED)] = None
    return tuple(found)


def milk_fat(library: Library, ref: Ref) -> Total:
    """Grams of saturated fat in a batch that are the fat of fluid milk that is drunk."""
    recipe = library.recipe(ref)
    return milk_fat_of(library, recipe, library.lines(ref))


def milk_fat_of(library: Library, recipe: Recipe, lines: tuple[Measured, ...]) -> Total:
    """The same for a recipe that may be none of the library's. What is not known is not taken off."""
    parts: list[Fraction | Gap] = []
    for measured in lines:
        line = measured.line
        if measured.ref is None or measured.gap is not None or line.alternative:
            continue
        kept = 1 - line.discard
        if not measured.is_food:
            inner: Total = library.get("milk fat", measured.ref)
            batches = measured.base(BATCH)
            if inner.known:
                parts.append(missing_measure(measured, BATCH) if batches is None else inner.known * batches * kept)
            parts.extend(inner.missing)
        elif (recipe.is_drink or line.on_the_side) and poured(library.food(measured.ref)) is not None:
            parts.append(_saturated(library, measured, kept))
    return total(parts)


def _saturated(library: Library, measured: Measured, kept: Fraction) -> Fraction | Gap:
    assert measured.ref is not None
    nutrition = nutrition_of(library, measured.ref)
    stated = None if nutrition is None else dict(nutrition.values).get(SATURATED)
    if nutrition is None or stated is None:
        return Gap(measured.line.name, f"it does not state {SATURATED}", f"{SATURATED} …")
    amount = amount_of(measured, nutrition)
    return amount if isinstance(amount, Gap) else stated * amount * kept


# ---- products with limits of their own -------------------------------------------------------------------------------


def has_limit(food: Food) -> bool:
    """Whether a food is of a kind whose sugars are limited: cereal, yogurt, flavored milk."""
    return food.cereal or food.crediting.yogurt or (food.milk is not None and food.milk[1] == FLAVORED)


def _products(library: Library, lines: tuple[Measured, ...]) -> tuple[Ref, ...]:
    found: set[Ref] = set()
    for measured in lines:
        if measured.ref is None:
            continue
        if not measured.is_food:
            found.update(library.get("kinds", measured.ref).products)
        elif has_limit(library.food(measured.ref)):
            found.add(measured.ref)
    return tuple(sorted(found))
