"""A batch: its ingredient lines measured, the mass and volume that they make, and how amounts of it turn into each
other. The three ask for each other through sub-recipes, so they stand together.

The weight that is written decides nutrients, cost and mass; neither side is derived through `weighs` while it is
written. What a variation puts in another ingredient's place keeps the measure when it credits by volume, else the
weight; the other is worked out anew.

Mass is the sum of what goes in, less what is discarded and what the recipe says it loses. Volume is summed only for
uncooked mixtures; for what is cooked, whipped, wilted or risen it comes from the recipe's own `weighs` or `yields`, or
is unknown.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import is_food, kind_of, resolve
from recipelang.evaluate.unknown import NOTHING, Gap, Total, total, unread
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.food.food import food_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.measures import EACH_NODE, NO_MEASURES, Measures, Rate, node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Line, Recipe, is_cooked
from recipelang.text.record import Record
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import BATCH, CUP, GRAM, MASS, PORTION, VOLUME, WORD


class Yield(Record):
    """Of a whole batch, in grams and cups; portions are the recipe's own."""

    portions: Fraction | None
    goes_in: Total
    """Grams of all ingredients, less discards, before losses."""
    mass: Total
    """Grams of the batch, less losses."""
    volume: Total
    """Cups of the batch: summed, measured, or unknown."""
    volume_is_summed: bool
    stated_mass: Fraction | None
    """Grams of one portion as `makes` states it."""
    stated_volume: Fraction | None
    """Cups of one portion as `makes` states it."""

    @property
    def portion_mass(self) -> Fraction | None:
        if self.stated_mass is not None:
            return self.stated_mass
        whole = self.mass.complete
        return None if whole is None or not self.portions else whole / self.portions

    @property
    def portion_volume(self) -> Fraction | None:
        if self.stated_volume is not None:
            return self.stated_volume
        whole = self.volume.complete
        return None if whole is None or not self.portions else whole / self.portions


@fact
def lines_of(facts: Facts, ref: Ref) -> tuple[Measured, ...]:
    """A recipe's ingredient lines, measured for the batch."""
    return measured_lines(facts, ref, recipe_of(facts, ref))


@fact
def measures_of(facts: Facts, ref: Ref) -> Measures:
    """How an amount of a food or a recipe turns into other kinds of measure."""
    kind = kind_of(facts, ref)
    if kind == "food":
        return food_of(facts, ref).measures
    return recipe_measures(facts, ref) if kind in ("recipe", "variation") else NO_MEASURES


@fact
def yield_of(facts: Facts, ref: Ref) -> Yield:
    """The yield of a recipe's batch."""
    return yield_of_lines(facts, ref, recipe_of(facts, ref), lines_of(facts, ref))


def yield_of_lines(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> Yield:
    """The yield of a recipe with other amounts or portions than are written."""
    kept = (_kept_mass(line) for line in lines if not line.line.alternative)
    goes_in = total((*kept, *unread(recipe.broken)))
    mass = NOTHING
    measured_mass = _measured(recipe, MASS)
    if measured_mass is not None:
        mass = Total(measured_mass)
    elif goes_in.known is not None:
        mass = Total(goes_in.known * (1 - recipe.loses), goes_in.missing)
    else:
        mass = goes_in
    volume, summed = _volume(recipe, lines, mass)
    return Yield(
        recipe.portions, goes_in, mass, volume, summed, stated_portion(facts, ref, recipe, MASS),
        stated_portion(facts, ref, recipe, VOLUME),
    )  # fmt: skip


def _kept_mass(line: Measured) -> Fraction | Gap:
    grams = line.grams_or_gap()
    if line.line.to_taste or line.line.optional:
        return ZERO  # a pinch of salt is no part of a yield that anybody measures, nor what may be left out
    if isinstance(grams, Gap) or not line.line.discard:
        return grams
    return grams * (1 - line.line.discard)


def _kept_volume(line: Measured) -> Fraction | Gap:
    if line.line.to_taste or line.line.optional:
        return ZERO
    cups = line.cups_or_gap()
    if isinstance(cups, Gap) or not line.line.discard:
        return cups
    return cups * (1 - line.line.discard)


def _measured(recipe: Recipe, node: str) -> Fraction | None:
    """What a `yields` line says, in base units."""
    return next((side.quantity.base for side in recipe.yields if side.quantity.dimension == node), None)


def _density(recipe: Recipe) -> Fraction | None:
    """Grams of a cup of the finished dish, as its own line or its `yields` says."""
    rate = next((rate.factor for rate in recipe.rates if rate.source == VOLUME), None)
    if rate is not None:
        return rate
    mass, volume = _measured(recipe, MASS), _measured(recipe, VOLUME)
    return mass / volume if mass and volume else None


def _volume(recipe: Recipe, lines: tuple[Measured, ...], mass: Total) -> tuple[Total, bool]:
    """Cups of a batch, and whether they are the sum of what goes in."""
    stated = _measured(recipe, VOLUME)
    if stated is not None:
        return Total(stated), False
    density = _density(recipe)
    if density is not None:
        return (NOTHING if mass.known is None else Total(mass.known / density, mass.missing)), False
    if is_cooked(recipe):
        why = Gap(recipe.name, "it is cooked, and nobody has measured it", "weighs … g per cup")
        return Total(None, (why,)), False
    parts = [_kept_volume(line) for line in lines if not line.line.alternative and not line.line.on_the_side]
    return total((*parts, *unread(recipe.broken))), True


def stated_portion(facts: Facts, ref: Ref, recipe: Recipe, node: str) -> Fraction | None:
    """One portion as `makes` states it, in base units; parts of several things add up."""
    if not recipe.portion:
        return None
    own = Measures(recipe.rates)
    found = ZERO
    for part in recipe.portion:
        value = own.convert(part.quantity, node) if not part.name else _part(facts, ref, part.name, part, node)
        if value is None:
            return None
        found += value
    return found


def _part(facts: Facts, ref: Ref, name: str, part: object, node: str) -> Fraction | None:
    from recipelang.model.recipe import PortionPart
    from recipelang.syntax.split import fold

    assert isinstance(part, PortionPart)
    if node_of(part.quantity.unit) == node:
        return part.quantity.base
    target = resolve(facts, fold(name), within=ref)
    if target is None or in_circle(facts, ref, target):
        return None
    return measures_of(facts, target).convert(part.quantity, node)


def recipe_measures(facts: Facts, ref: Ref) -> Measures:
    """How amounts of a recipe, used in another, turn into each other.

    A batch is its measured yield where there is one, else its portions at their stated size, else the sum of what goes
    in.
    """
    recipe = recipe_of(facts, ref)
    result = yield_of(facts, ref)
    rates: list[Rate] = [*facts.settings.own_units, *recipe.rates]
    if recipe.portions:
        rates.append(Rate(BATCH, PORTION, recipe.portions))
        single = recipe.portion[0] if len(recipe.portion) == 1 and not recipe.portion[0].name else None
        if single is not None and node_of(single.quantity.unit) == EACH_NODE:
            rates.append(Rate(PORTION, EACH_NODE, single.quantity.base))
    for node, measured, stated, summed in (
        (MASS, _measured(recipe, MASS), result.stated_mass, result.mass),
        (VOLUME, _measured(recipe, VOLUME), result.stated_volume, result.volume),
    ):
        if measured is not None:
            rates.append(Rate(BATCH, node, measured))
        elif stated is not None and recipe.portions:
            rates.append(Rate(PORTION, node, stated))
        elif summed.complete:
            rates.append(Rate(BATCH, node, summed.complete))
    return Measures(rates, unread=bool(recipe.broken & {"makes", "weighs", "each weighs", "yields"}))


# ---- ingredient lines -----------------------------------------------------------------------------------------------


def measured_lines(facts: Facts, ref: Ref, recipe: Recipe) -> tuple[Measured, ...]:
    """All ingredient lines of a recipe, measured for the batch."""
    per_portion = recipe.portions if recipe.per_portion else None
    return tuple(_measure(facts, ref, recipe, line, per_portion) for line in recipe.lines)


def _measure(facts: Facts, ref: Ref, recipe: Recipe, line: Line, portions: Fraction | None) -> Measured:
    target = resolve(facts, line.key, within=ref)
    if target is None:
        gap = Gap(line.name, "nothing in the library or the pantry has this name", f"food {line.name}")
        return Measured(line, None, (), NO_MEASURES, gap)
    kind = kind_of(facts, target)
    is_food = kind == "food"
    if not is_food and kind not in ("recipe", "variation"):
        return Measured(line, None, (), NO_MEASURES, Gap(line.name, "it is neither a food nor a recipe"))
    if not is_food and in_circle(facts, ref, target):
        return Measured(line, None, (), NO_MEASURES, Gap(line.name, "it is made of this recipe itself"))
    measures = measures_of(facts, target)
    if line.to_taste:
        return Measured(line, target, (), measures, Gap(line.name, "it is added to taste", "an amount"), is_food)
    sides = tuple(side.quantity for side in line.sides)
    if line.replaces:
        sides = _kept(facts, ref, line, target, sides, measures)
    if recipe.per_portion:
        if portions is None:
            gap = Gap(line.name, "the number of portions is unknown", "makes")
            return Measured(line, target, (), measures, gap, is_food)
        sides = tuple(side.times(portions) for side in sides)
    if any(side.dimension == WORD for side in sides):
        sides = tuple(side for side in sides if side.dimension != WORD or measures.knows(side.unit.name))
    if not sides:
        return Measured(line, target, (), measures, Gap(line.name, "its amount can't be used", "an amount"), is_food)
    found = Measured(line, target, sides, measures, None, is_food)
    return found._replace(grams=found.base(MASS), cups=found.base(VOLUME))


def _kept(
    facts: Facts, ref: Ref, line: Line, target: Ref, sides: tuple[Quantity, ...], measures: Measures
) -> tuple[Quantity, ...]:
    """The one amount that a replacement keeps of what it replaces."""
    old = resolve(facts, line.replaces, within=ref)
    if old is None or not sides:
        return sides
    if in_circle(facts, ref, old):
        return ()  # what it replaces is made of this very recipe: nothing says how its measures compare
    counted = next((side for side in sides if node_of(side.unit) not in (MASS, VOLUME)), None)
    if counted is not None and measures.knows(node_of(counted.unit)):
        return (counted,)
    old_measures = measures_of(facts, old)
    node = VOLUME if credits_by_volume(facts, target) else MASS
    written = next((side for side in sides if node_of(side.unit) == node), None)
    if written is not None:
        return (written,)
    value = next((found for side in sides if (found := old_measures.convert(side, node)) is not None), None)
    if value is None:
        return sides[:1]
    return (Quantity(value, CUP if node == VOLUME else GRAM),)


def credits_by_volume(facts: Facts, ref: Ref) -> bool:
    """Whether the first thing a food credits by is a volume."""
    if not is_food(facts, ref):
        return False
    lines = crediting_of(facts, ref).lines
    return bool(lines) and lines[0].per.dimension == VOLUME
