"""What one ingredient line contributes to the meal components, exactly and for the whole batch.

These contributions are the derivation of a credit: `credits.py` adds them up, `trace` prints them, and both call the
same functions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_food
from recipelang.evaluate.unknown import Gap
from recipelang.facts.food.as_purchased import Item, above_of, item_of, parent_of
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.nutrition import stated_nutrition_of
from recipelang.facts.recipe.credit_lines import COOKED, RAW, Chosen, line_for, may_shrink
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.model.components import FRUIT, GRAIN, MEAT, MILK, PULSES, VEGETABLE, Component
from recipelang.model.food import Crediting, CreditLine, Nutrition
from recipelang.model.measures import Measures, node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import GRAIN_GROUPS, NUTRIENTS, creditable_grams
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.table import GRAM, GRAMS_PER_OUNCE, KILOGRAM, MASS, UNITS, VOLUME

YOGURT_RATES = ((MASS, 1 / (4 * GRAMS_PER_OUNCE)), (VOLUME, Fraction(2)))
"""1 oz eq per 4 oz or per 1/2 cup: the rate of yogurt and of nothing else in the crediting tables (7 CFR 210.10)."""


class Contribution(Record):
    """What a line adds to one component, for the batch, in the component's unit."""

    at: int
    """Which ingredient line; -1 for the dish as a whole."""
    component: Component
    amount: Fraction
    cut: Fraction
    """The amount when the ratio of a yield table is cut to two decimals, as on a paper worksheet."""
    juice: bool = False
    yogurt: bool = False
    whole: Fraction = ZERO
    """The share of a grain that is whole; 1 for a product that is whole grain-rich."""
    line: CreditLine | None = None
    """The food's credit line it rests on; None for a grain group, creditable grain or a sub-recipe."""
    through_parent: bool = False
    group: str = ""
    per_oz_eq: Fraction | None = None
    """Grams of creditable grain in one ounce equivalent, where the grain is credited so."""
    from_recipe: bool = False
    least: Fraction | None = None
    """The amount by the choices of a sub-recipe that credit least, and most; None where it has none."""
    most: Fraction | None = None
    beyond: Fraction = ZERO
    """What of it is more than the room it takes in the portion: dried fruit, tomato paste, what stands on the side."""
    concentrate: bool = False
    """Whether it is of a juice that is not of full strength."""


class Unproven(Record):
    """What a raw measure would credit of a food that is cooked: no less than it does, and nobody knows how much."""

    at_most: Contribution
    gap: Gap


class GapLine(Record):
    """An ingredient line and what keeps it from being credited."""

    at: int
    """-1 for the dish as a whole."""
    gap: Gap
    names: frozenset[str] | None
    """The components that it may lack; None where it may be any."""


class Credited(Record):
    """All contributions of a recipe's lines, and what could not be credited and why."""

    contributions: tuple[Contribution, ...]
    gaps: tuple[GapLine, ...]
    undecided: tuple[int, ...]
    """Lines of pulses that credit as one thing or another, which the recipe does not say."""
    scratch: tuple[int, ...]
    """Lines of grain that credits only by a method of the recipe, which the recipe does not name."""
    unproven: tuple[Unproven, ...]
    """Vegetables and fruit that are cooked and of which only the raw credit is known; their gaps stand in `gaps` too."""


def is_scratch_grain(crediting: Crediting) -> bool:
    """Whether a food is grain that credits only as part of a product: flour, meal."""
    return (
        crediting.creditable is not None
        and crediting.group is None
        and not any(line.component.name == GRAIN for line in crediting.lines)
    )


def counts(recipe: Recipe, measured: Measured, part: Contribution) -> bool:
    """Whether a contribution counts in this kind of dish: in a drink no grain credits, and meat alternate only from
    yogurt; milk credits only where it is drunk; juice credits at full strength (7 CFR 210.10(c)(2)), so a concentrate
    counts where water makes a drink of it, and sweetens or seasons anything else."""
    name = part.component.name
    if part.concentrate and not recipe.is_drink:
        return False
    if recipe.is_drink and not measured.line.on_the_side:
        return name != GRAIN and (name != MEAT or part.yogurt)
    return name != MILK or part.from_recipe or measured.line.on_the_side


def is_yogurt(crediting: Crediting, line: CreditLine) -> bool:
    """Whether a credit is a yogurt's: the food says so, or its rate is the one that only yogurt has."""
    if crediting.yogurt:
        return True
    return any(line.node == node and line.rate == rate for node, rate in YOGURT_RATES)


# ---- pulses: one or the other ----------------------------------------------------------------------------------------


def is_undecided(facts: Facts, recipe: Recipe, crediting: Crediting, measured: Measured) -> bool:
    if measured.line.credited_as is not None or measured.ref is None or pulse_choice(recipe) is not None:
        return False
    return is_pulse_food(facts, measured.ref)


def is_pulse(lines: Iterable[CreditLine]) -> bool:
    """Whether a food's lines, and those of the item it is the edible portion of, credit it as a vegetable or as a meat
    alternate. A product that credits anything else besides, such as a bean burrito, is not one or the other but both."""
    names = {(line.component.name, line.component.subgroup == PULSES) for line in lines}
    return names == {(VEGETABLE, True), (MEAT, False)}


def is_pulse_food(facts: Facts, ref: Ref) -> bool:
    """Whether a food may credit as a vegetable or as a meat alternate."""
    crediting = crediting_of(facts, ref)
    item = item_of(facts, ref)
    return is_pulse((*crediting.lines, *(item.lines if item is not None else ())))


def pulse_choice(recipe: Recipe) -> str | None:
    """What a recipe's claims make of its pulses where no line says it: None where they leave it open."""
    claimed = {(claim.component.name, claim.component.subgroup) for claim in recipe.claims}
    if (VEGETABLE, PULSES) in claimed:
        return VEGETABLE
    names = {name for name, _ in claimed}
    if MEAT in names and VEGETABLE not in names:
        return MEAT
    if (VEGETABLE, None) in claimed and MEAT not in names:
        return VEGETABLE
    return None


# ---- a food's lines --------------------------------------------------------------------------------------------------


def _may_credit(facts: Facts, ref: Ref, crediting: Crediting) -> bool:
    """Whether a food may credit at all: a by-product only where its parent's credit leaves it out."""
    parent = parent_of(facts, ref)
    if parent is None or not parent.by_product:
        return True
    above = above_of(facts, ref)
    known = crediting_of(facts, above) if above is not None and is_food(facts, above) else None
    return by_product_credits(crediting, known)


def of_food(
    facts: Facts, recipe: Recipe, index: int, measured: Measured, crediting: Crediting, heated: bool
) -> Iterator[Contribution | GapLine | Unproven]:
    """What a line of a food contributes, component by component, or what keeps it from that."""
    line = measured.line
    assert measured.ref is not None
    if not _may_credit(facts, measured.ref, crediting):
        return
    item = item_of(facts, measured.ref)
    from_item = item.lines if item is not None else ()
    if crediting.broken or (item is not None and item.is_broken):
        yield GapLine(index, Gap(line.name, "a line on what it credits can't be read", "the line, fixed"), None)
    if crediting.says_nothing and item is None and not crediting.broken:
        yield GapLine(index, unstated_gap(line.name), None)
        return
    if measured.gap is not None:
        names = {credit.component.name for credit in (*crediting.lines, *from_item)}
        names |= {GRAIN} if crediting.group else set()
        if names:
            yield GapLine(index, measured.gap, frozenset(names))
        return
    wanted = line.credited_as
    if wanted is None and is_pulse((*crediting.lines, *from_item)):
        choice = pulse_choice(recipe)
        wanted = Component(choice, PULSES if choice == VEGETABLE else None) if choice else None
    components = dict.fromkeys(credit.component for credit in (*crediting.lines, *from_item))
    for component in components:
        if wanted is not None and not is_wanted(component, wanted):
            continue
        if component.name == GRAIN and _grain_by_recipe(recipe, measured):
            continue
        for part in _by_line(
            facts=facts,
            recipe=recipe,
            index=index,
            measured=measured,
            crediting=crediting,
            item=item,
            component=component,
            heated=heated,
        ):
            yield GapLine(index, part, frozenset({component.name})) if isinstance(part, Gap) else part
    by_group = crediting.group is not None and (wanted is None or wanted.name == GRAIN)
    by_own_line = any(component.name == GRAIN for component in components)
    if by_group and not by_own_line and not _grain_by_recipe(recipe, measured):
        part = _by_group(index, measured, crediting)
        yield GapLine(index, part, frozenset({GRAIN})) if isinstance(part, Gap) else part


def is_wanted(component: Component, wanted: Component) -> bool:
    if component.name != wanted.name:
        return False
    return wanted.subgroup is None or component.subgroup is None or component.subgroup == wanted.subgroup


def by_product_credits(crediting: Crediting, parent: Crediting | None) -> bool:
    """Whether a drained-off liquid credits: only juice, and only where the parent's credit leaves it out."""
    if parent is None or parent.packed_in != "juice":
        return False
    return all(line.liquid == "drained" for line in parent.lines if line.component.name == FRUIT)


def _grain_by_recipe(recipe: Recipe, measured: Measured) -> bool:
    """Whether the recipe's own method speaks for this food's grain: of all that goes into the product, a ready product
    by its own weight or not at all. What stands on the side is a product of its own."""
    return recipe.grains_by is not None and not measured.line.on_the_side


def _by_line(
    facts: Facts, recipe: Recipe, index: int, measured: Measured, crediting: Crediting, item: Item | None,
    component: Component, heated: bool,
) -> Iterator[Contribution | Gap | Unproven]:  # fmt: skip
    """One component of a food by the line that speaks for the amount in the state in which it is served."""
    assert measured.ref is not None
    served = ""
    if may_shrink(facts, measured.ref, crediting, component):
        served = COOKED if heated else RAW
    found = line_for(facts, measured, crediting, item, component, recipe.portions, served)
    if found is None:
        raw = line_for(facts, measured, crediting, item, component, recipe.portions, "") if served == COOKED else None
        if raw is not None:
            yield Unproven(_contribution(recipe, index, crediting, measured, raw), cooked_gap(measured, raw.line))
            return
        lines = [*crediting.lines, *(item.lines if item is not None else ())]
        first = next((line for line in lines if line.component == component), None)
        if first is not None:
            yield missing_measure(measured, first.node)
        return
    if found.line.needs is not None:
        problem = unmet_condition(facts, measured, found.line)
        if problem is not None:
            if isinstance(problem, Gap):
                yield problem
            return
    yield _contribution(recipe, index, crediting, measured, found)


def unstated_gap(name: str) -> Gap:
    """The gap of a food that no line says the credits of: not nothing, but unknown."""
    return Gap(name, "nobody says what it credits", "credits nothing")


def is_unstated(gap: Gap) -> bool:
    return gap == unstated_gap(gap.name)


def cooked_gap(measured: Measured, line: CreditLine) -> Gap:
    """The gap of a raw food that is cooked, and of which only the raw credit is known."""
    supply = f"credits … {line.component.unit} {line.component.title} per lb as purchased, cooked"
    return Gap(measured.line.name, "it is cooked here, and no line says what it credits cooked", supply)


def amount_per(measured: Measured, per: Quantity) -> Fraction | None:
    """How many `per` a line holds, as written or by the food's measures."""
    base = measured.base(node_of(per.unit))
    return None if base is None else base / per.base


def _contribution(recipe: Recipe, index: int, crediting: Crediting, measured: Measured, chosen: Chosen) -> Contribution:
    line = chosen.line
    component = line.component
    base = chosen.base * (1 - measured.line.discard) if measured.line.discard else chosen.base
    amount = base * line.rate
    cut = amount if line.basis != "as purchased" or line.node != MASS else _cut(line, base)
    strength = concentration(crediting, component)
    return Contribution(
        index, component, amount, cut,
        juice=(crediting.juice or recipe.is_drink) and component.name in (FRUIT, VEGETABLE),
        yogurt=component.name == MEAT and is_yogurt(crediting, line),
        whole=ONE if crediting.whole_grain_rich else ZERO, line=line, through_parent=chosen.through,
        beyond=amount if measured.line.on_the_side else amount - amount / strength,
        concentrate=crediting.juice and strength > 1,
    )  # fmt: skip


def concentration(crediting: Crediting, component: Component) -> Fraction:
    """How many cups a cup of a food credits where it credits more than its volume: dried fruit 2, tomato paste 4; else 1."""
    if component.name not in (FRUIT, VEGETABLE):
        return ONE
    rates = [
        line.rate
        for line in crediting.lines
        if line.component == component and line.node == VOLUME and line.basis != "as purchased"
    ]
    return max(ONE, *rates) if rates else ONE


def _cut(line: CreditLine, grams: Fraction) -> Fraction:
    """The contribution with the yield table's ratio cut to two decimals: servings an ounce, a serving of fruit or
    vegetable being 1/4 cup."""
    serving = Fraction(1, 4) if line.component.unit == "cup" else ONE
    ratio = line.rate * GRAMS_PER_OUNCE / serving
    cut = Fraction((ratio * 100).__floor__(), 100)
    return grams / GRAMS_PER_OUNCE * cut * serving


def unmet_condition(facts: Facts, measured: Measured, line: CreditLine) -> Gap | Fraction | None:
    """What keeps a credit that hangs on a nutrient: the grams found where they are too few, a gap where they are not
    known, None where the condition is met."""
    assert line.needs is not None
    least, nutrient = line.needs
    assert measured.ref is not None
    grams = nutrient_in(stated_nutrition_of(facts, measured.ref), measured.measures, nutrient, line.per)
    if grams is None:
        return Gap(measured.line.name, f"its credit needs {nutrient}, which nobody states", f"{nutrient} … g")
    return None if grams >= least.base else grams


def nutrient_in(nutrition: Nutrition | None, measures: Measures, nutrient: str, size: Quantity) -> Fraction | None:
    """Grams of a nutrient in an amount of a food, by its nutrition statement; None where nobody says."""
    stated = None if nutrition is None else dict(nutrition.values).get(nutrient)
    if nutrition is None or stated is None:
        return None
    node = node_of(size.unit)
    amount, per = measures.convert(size, node), measures.convert(nutrition.per, node)
    unit = UNITS.get(NUTRIENTS.get(nutrient) or dict(nutrition.units).get(nutrient, "g"))
    if amount is None or not per or unit is None or unit.dimension != MASS:
        return None
    return stated * unit.factor * amount / per


# ---- grain -----------------------------------------------------------------------------------------------------------


def _by_group(index: int, measured: Measured, crediting: Crediting) -> Contribution | Gap:
    """Grain of a ready product: by its creditable grain where a document states that for a piece, else by weight from
    the grain table, ounces by its ounce column and grams by its gram column."""
    assert crediting.group is not None
    stated = crediting.creditable
    whole = ONE if crediting.whole_grain_rich else ZERO
    per_oz_eq: Fraction | None = None
    if stated is not None and stated.grams is not None and stated.per is not None:
        pieces = amount_per(measured, stated.per)
        if pieces is None:
            return missing_measure(measured, node_of(stated.per.unit))
        per_oz_eq = creditable_grams(crediting.group)
        amount = pieces * stated.grams / per_oz_eq
        whole = max(whole, stated.whole)
    else:
        weight = written_weight(measured)
        if weight is None:
            return missing_measure(measured, MASS)
        grams, metric = weight
        per_grams, per_ounces = GRAIN_GROUPS[crediting.group]
        amount = grams / per_grams if metric else grams / GRAMS_PER_OUNCE / per_ounces
    amount *= 1 - measured.line.discard
    return Contribution(
        index, Component(GRAIN), amount, amount, whole=whole, group=crediting.group, per_oz_eq=per_oz_eq
    )


def written_weight(measured: Measured) -> tuple[Fraction, bool] | None:
    """Grams of a line, and whether its weight was written in grams rather than ounces."""
    for side in measured.sides:
        if side.dimension == MASS:
            return side.base, side.unit in (GRAM, KILOGRAM)
    for side in measured.sides:
        node = node_of(side.unit)
        rate = measured.measures.rate(node, MASS)
        if rate is not None:
            return side.base * rate[0], rate[1]
    return None
