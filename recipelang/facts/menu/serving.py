"""One serving of a menu: what it credits, and what stands behind it. Taken once for each name and amount.

A recipe credits what it claims where it claims anything (the claims are held against the ingredients at the recipe),
else what is computed; another size than its portion credits its share, rounded down. A food served by itself is a dish
of one line: it credits by its own lines, and a pulse by itself is a vegetable.
"""

from __future__ import annotations

from typing import Final

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.food.food import food_of
from recipelang.facts.recipe.batch import measured_lines, measures_of, yield_of
from recipelang.facts.recipe.composition import (
    Composition,
    Poured,
    composition_of,
    composition_of_dish,
    milk_fat_of,
    milk_fat_of_dish,
    poured,
)
from recipelang.facts.recipe.contributions import is_pulse_food, is_unstated
from recipelang.facts.recipe.credits import contributions, credits_of, credits_of_dish, rows_of_share
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.nutrients import LIMITED, Nutrients, limited_nutrients_of, nutrients_of, nutrients_of_dish
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.components import FRUIT, GRAIN, MEAT, STEP, VEGETABLE, Component
from recipelang.model.food import Food
from recipelang.model.measures import EACH_NODE, settled
from recipelang.model.names import Ref
from recipelang.model.needs import FRUIT_OR_VEGETABLE, GRAIN_OR_MEAT
from recipelang.model.recipe import Assembly, Recipe
from recipelang.model.recipe_lines import build_recipe
from recipelang.syntax import tree
from recipelang.syntax.tree import ANYTHING, Cell, Notes, Word
from recipelang.text.record import Record
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import round_down
from recipelang.units.table import COUNT, PORTION

JOINED: Final = {FRUIT_OR_VEGETABLE: (FRUIT, VEGETABLE), GRAIN_OR_MEAT: (GRAIN, MEAT)}
"""Needs that several components fill together."""

DIET: Final = LIMITED
SOLD: Final = (*DIET, "total fat", "total sugars")
"""What is sold beside the meals is judged by."""

Key = tuple[str, str]
"""A folded name and the text of an amount, empty for one portion or piece."""


class Serving(Record):
    """Amounts are in the unit of their component; what is not in the table is nothing, or is not known."""

    name: str
    ref: Ref | None
    is_food: bool
    share: Fraction | None
    """Portions of the recipe that a serving is; 1 for a food."""
    amounts: dict[str, Fraction]
    """By component, vegetable subgroup, and by the needs that several components fill together."""
    unknown: tuple[Gap, ...]
    """Why more may be credited than is known."""
    unmeasured: str
    """Why the amount says nothing of how much is served; empty where it does."""
    fruit_juice: Fraction
    vegetable_juice: Fraction
    whole_grain: Fraction
    dessert: Fraction
    dessert_groups: frozenset[str]
    pulses: Fraction
    """Cups of beans, peas and lentils in what is credited as meat alternate."""
    milks: tuple[Poured, ...]
    products: tuple[Ref, ...]
    is_drink: bool

    def amount(self, need: str) -> Fraction:
        return self.amounts.get(need, ZERO)


@fact
def serving_of(facts: Facts, key: Key) -> Serving:
    """The serving that a name and an amount mean in a menu."""
    name, text = key
    ref = resolve(facts, name)
    if ref is not None and is_recipe(facts, ref):
        return _of_recipe(facts, ref, text)
    if ref is not None and is_food(facts, ref):
        return _of_food(facts, ref, name, text)
    return _nothing(name, ref, Gap(name, "nothing has this name"))


_PORTION_WORDS: Final = frozenset({"makes", ANYTHING})
_CLAIM_WORDS: Final = frozenset({"credits", ANYTHING})
"""Broken lines of a recipe that could have said what its portion is, or what it claims."""


def _nothing(name: str, ref: Ref | None, gap: Gap, unmeasured: str = "", is_food: bool = False) -> Serving:
    return Serving(
        name=name,
        ref=ref,
        is_food=is_food,
        share=None,
        amounts={},
        unknown=(gap,),
        unmeasured=unmeasured,
        fruit_juice=ZERO,
        vegetable_juice=ZERO,
        whole_grain=ZERO,
        dessert=ZERO,
        dessert_groups=frozenset(),
        pulses=ZERO,
        milks=(),
        products=(),
        is_drink=False,
    )


# ---- a recipe --------------------------------------------------------------------------------------------------------


def portions_of(facts: Facts, ref: Ref, text: str) -> Fraction | None:
    """How many portions of a recipe an amount is; None where nothing says."""
    if not text:
        return ONE
    quantity = quantity_of(facts, text)
    return None if quantity is None else measures_of(facts, ref).convert(quantity, PORTION)


def quantity_of(facts: Facts, text: str) -> Quantity | None:
    quantity = read_amount(text).quantity
    return None if quantity is None else settled(quantity, facts.settings.own_units)


def _of_recipe(facts: Facts, ref: Ref, text: str) -> Serving:
    recipe = recipe_of(facts, ref)
    share = portions_of(facts, ref, text)
    if share is None and (not recipe.portions or recipe.broken & _PORTION_WORDS):
        return _nothing(recipe.name, ref, Gap(recipe.name, "its portions can't be read"))
    if share is None:
        why = f"{text} of {recipe.name} has no known share of a portion: its recipe doesn't say how much a portion is"
        return _nothing(recipe.name, ref, Gap(recipe.name, "its portion is not measured"), why)
    credits = credits_of(facts, ref)
    kinds = composition_of(facts, ref)
    rows = rows_of_share(recipe, credits, share)
    juice = {row.component.name: row.juice for row in rows if row.component.subgroup is None}
    gaps: tuple[Gap, ...] = ()
    if recipe.broken & _CLAIM_WORDS:
        gaps = (Gap(recipe.name, "its claims can't be read"),)
    if recipe.claims or recipe.claims_nothing:
        amounts = _claimed(recipe, share)
    else:
        amounts = _table({row.component: row.credited_least for row in rows})
        gaps += tuple(gap for gap in credits.gaps if not is_unstated(gap))
        if credits.undecided:
            gaps += (Gap(recipe.name, "it doesn't say what its beans, peas and lentils credit as"),)
    return _serving(
        name=recipe.name,
        ref=ref,
        is_food=False,
        share=share,
        amounts=amounts,
        gaps=gaps,
        juice=juice,
        kinds=kinds,
        is_drink=recipe.is_drink,
        says_whole=recipe.whole_grain_rich is not None,
    )


def _claimed(recipe: Recipe, share: Fraction) -> dict[str, Fraction]:
    found: dict[Component, Fraction] = {}
    for claim in recipe.claims:
        step = STEP[claim.component.name]
        amount = claim.amount if share == 1 else round_down(claim.amount * share, step)
        found[claim.component] = found.get(claim.component, ZERO) + amount
    return _table(found)


def _table(credited: dict[Component, Fraction]) -> dict[str, Fraction]:
    """Amounts by need, from amounts by component; vegetables without a stated total are the sum of their subgroups."""
    amounts: dict[str, Fraction] = {}
    subgroups = ZERO
    for component, amount in credited.items():
        if component.subgroup is not None:
            amounts[component.subgroup] = amount
            subgroups += amount
        else:
            amounts[component.name] = amount
    if subgroups:
        amounts[VEGETABLE] = max(amounts.get(VEGETABLE, ZERO), subgroups)
    for need, names in JOINED.items():
        amounts[need] = sum((amounts.get(name, ZERO) for name in names), ZERO)
    return {need: amount for need, amount in amounts.items() if amount}


def _serving(
    name: str, ref: Ref, is_food: bool, share: Fraction, amounts: dict[str, Fraction], gaps: tuple[Gap, ...],
    juice: dict[str, Fraction], kinds: Composition, is_drink: bool, says_whole: bool,
) -> Serving:  # fmt: skip
    grain = amounts.get(GRAIN, ZERO)
    # what rounding or a low claim takes off comes off the rest first: the beans are in the dish
    pulses = min(amounts.get(MEAT, ZERO), kinds.pulse_ounces * share) / 4
    return Serving(
        name=name,
        ref=ref,
        is_food=is_food,
        share=share,
        amounts=amounts,
        unknown=gaps,
        unmeasured="",
        fruit_juice=min(amounts.get(FRUIT, ZERO), juice.get(FRUIT, ZERO)),
        vegetable_juice=min(amounts.get(VEGETABLE, ZERO), juice.get(VEGETABLE, ZERO)),
        whole_grain=grain if says_whole else grain * kinds.whole,
        dessert=grain * kinds.dessert,
        dessert_groups=kinds.dessert_groups,
        pulses=round_down(pulses, STEP[VEGETABLE]),
        milks=kinds.milks,
        products=kinds.products,
        is_drink=is_drink,
    )


# ---- a food ----------------------------------------------------------------------------------------------------------


class Dish(Record):
    """A food served by itself as a recipe of one portion and one line."""

    recipe: Recipe
    lines: tuple[Measured, ...]


_NOWHERE: Final = DeclarationId("", "")
_ONE_PORTION: Final = tree.Makes(0, 0, Word("1", 0), ())


def dish_of(facts: Facts, name: str, text: str, credited_as: str = "") -> Dish:
    """A serving of a food as a dish; `text` is its amount."""
    cell = Cell(Word(text or "1 each", 0))
    notes = Notes(
        on_the_side=Word("on the side", 0), credited_as=Word(credited_as, 0) if credited_as else None
    )  # fmt: skip
    line = tree.Ingredient(0, 0, (cell,), Word(name, 0), notes)
    header = tree.Ingredients(0, 0, False, ())
    assembly = Assembly(((_NOWHERE, _ONE_PORTION),), (_NOWHERE, header), ((_NOWHERE, line),))
    recipe = build_recipe(name, _NOWHERE, assembly, own_units=facts.settings.own_units)
    return Dish(recipe, measured_lines(facts, "", recipe))


def _of_food(facts: Facts, ref: Ref, name: str, text: str) -> Serving:
    food = food_of(facts, ref)
    if not text and not has_pieces(food) and food.crediting.broken:
        return _nothing(food.name, ref, Gap(food.name, "its credits can't be read"), is_food=True)
    if not text and not has_pieces(food):
        why = f"no amount of {food.name} is written"
        return _nothing(food.name, ref, Gap(food.name, why), why, True)
    crediting = food.crediting
    dish = dish_of(facts, name, text, "vegetable" if is_pulse_food(facts, ref) else "")
    credits = credits_of_dish(facts, "", dish.recipe, dish.lines)
    parts = contributions(facts, "", dish.recipe, dish.lines).contributions
    kinds = composition_of_dish(facts, dish.recipe, dish.lines, parts)
    milk = poured(food)
    kinds = kinds._replace(milks=(milk,) if milk is not None else ())
    unmeasured = ""
    gaps = tuple(gap for gap in credits.gaps if not is_unstated(gap))
    if crediting.broken:
        gaps += (Gap(food.name, "its credits can't be read"),)
    elif gaps:
        unmeasured = f"{text or '1 each'} of {food.name} can't be credited: {gaps[0].because}"
    amounts = _table({row.component: row.credited_least for row in credits.rows})
    juice = {row.component.name: row.juice for row in credits.rows if row.component.subgroup is None}
    is_drink = food.liquid or crediting.juice or milk is not None
    found = _serving(
        name=food.name,
        ref=ref,
        is_food=True,
        share=ONE,
        amounts=amounts,
        gaps=gaps,
        juice=juice,
        kinds=kinds,
        is_drink=is_drink,
        says_whole=crediting.whole_grain_rich,
    )
    return found._replace(unmeasured=unmeasured)


def has_pieces(food: Food) -> bool:
    """Whether a food comes in pieces that a serving can be one of."""
    pers = [line.per for line in food.crediting.lines]
    if food.nutrition is not None:
        pers.append(food.nutrition.per)
    if food.purchase.per is not None:
        pers.append(food.purchase.per)
    if food.crediting.creditable is not None and food.crediting.creditable.per is not None:
        pers.append(food.crediting.creditable.per)
    return food.measures.knows(EACH_NODE) or any(per.dimension == COUNT for per in pers)


# ---- what is eaten ---------------------------------------------------------------------------------------------------


class Eaten(Record):
    """Nutrients of one serving, by name, in label units; for what is sold also grams and cups of it, where known."""

    nutrients: dict[str, Total]
    milk_fat: Fraction
    """Grams of saturated fat that are known to be the fat of fluid milk."""
    grams: Fraction | None
    cups: Fraction | None


@fact
def eaten_nutrients_of(facts: Facts, key: Key) -> Eaten:
    """The nutrients of the serving that a name and an amount mean in a menu: those that meal patterns limit."""
    return _eaten(facts, key, DIET)


@fact
def sold_nutrients_of(facts: Facts, key: Key) -> Eaten:
    """The same with all that what is sold beside the meals is judged by."""
    return _eaten(facts, key, SOLD)


def _eaten(facts: Facts, key: Key, names: tuple[str, ...]) -> Eaten:
    found = serving_of(facts, key)
    if found.ref is None or found.share is None:
        missing = Total(None, found.unknown)
        return Eaten(dict.fromkeys(names, missing), ZERO, None, None)
    limited = names is DIET
    if found.is_food:
        dish = dish_of(facts, *key)
        return _shared(
            nutrients_of_dish(facts, dish.recipe, dish.lines, limited),
            milk_fat_of_dish(facts, dish.recipe, dish.lines) if found.milks else Total(None), ONE, names,
            dish.lines[0].grams, dish.lines[0].cups,
        )  # fmt: skip
    grams = cups = None
    if not limited:
        result = yield_of(facts, found.ref)
        mass, volume = result.portion_mass, result.portion_volume
        grams = None if mass is None else mass * found.share
        cups = None if volume is None else volume * found.share
    return _shared(
        (limited_nutrients_of if limited else nutrients_of)(facts, found.ref),
        milk_fat_of(facts, found.ref) if found.milks else Total(None), found.share, names, grams, cups,
    )  # fmt: skip


def _shared(
    nutrients: Nutrients, milk_fat: Total, share: Fraction, names: tuple[str, ...], grams: Fraction | None,
    cups: Fraction | None,
) -> Eaten:  # fmt: skip
    portions = nutrients.portions
    part = share / portions if portions else None
    values: dict[str, Total] = {}
    for name in names:
        found = nutrients.total(name) or Total(None)
        known = None if found.known is None or part is None else found.known * part
        values[name] = Total(known, found.missing)
    fat = milk_fat.known * part if milk_fat.known and part else ZERO
    return Eaten(values, fat, grams, cups)
