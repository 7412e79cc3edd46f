"""What a batch makes: its mass and volume, the portion's, and how a recipe's amounts turn into each other.

Mass is the sum of what goes in, less what is discarded and what the recipe says it loses. Volume is summed only for
uncooked mixtures; for what is cooked, whipped, wilted or risen it comes from the recipe's own `weighs` or `yields`, or
is unknown.
"""

from __future__ import annotations

from fractions import Fraction

from recipelang.evaluate.gaps import NOTHING, Gap, Total, total, unread
from recipelang.evaluate.library import Library, Ref
from recipelang.evaluate.measured import Measured
from recipelang.model.measures import EACH_NODE, Measures, Rate, node_of
from recipelang.model.recipe import Recipe, is_cooked
from recipelang.text.record import Record
from recipelang.units.table import BATCH, MASS, PORTION, VOLUME


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


def yields(library: Library, ref: Ref) -> Yield:
    """The yield of a recipe's batch."""
    recipe = library.recipe(ref)
    lines = library.lines(ref)
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
        recipe.portions, goes_in, mass, volume, summed, _stated(library, ref, recipe, MASS),
        _stated(library, ref, recipe, VOLUME),
    )  # fmt: skip


def _kept_mass(line: Measured) -> Fraction | Gap:
    grams = line.grams_or_gap()
    if line.line.to_taste:
        return Fraction(0)  # a pinch of salt is no part of a yield that anybody measures
    if isinstance(grams, Gap) or not line.line.discard:
        return grams
    return grams * (1 - line.line.discard)


def _kept_volume(line: Measured) -> Fraction | Gap:
    if line.line.to_taste:
        return Fraction(0)
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


def _stated(library: Library, ref: Ref, recipe: Recipe, node: str) -> Fraction | None:
    """One portion as `makes` states it, in base units; parts of several things add up."""
    if not recipe.portion:
        return None
    own = Measures(recipe.rates)
    found = Fraction(0)
    for part in recipe.portion:
        value = own.convert(part.quantity, node) if not part.name else _part(library, ref, part.name, part, node)
        if value is None:
            return None
        found += value
    return found


def _part(library: Library, ref: Ref, name: str, part: object, node: str) -> Fraction | None:
    from recipelang.model.recipe import PortionPart
    from recipelang.syntax.split import fold

    assert isinstance(part, PortionPart)
    if node_of(part.quantity.unit) == node:
        return part.quantity.base
    target = library.resolve(fold(name), within=ref)
    if target is None or library.in_cycle(ref, target):
        return None
    return library.measures(target).convert(part.quantity, node)


def recipe_measures(library: Library, ref: Ref) -> Measures:
    """How amounts of a recipe, used in another, turn into each other.

    A batch is its measured yield where there is one, else its portions at their stated size, else the sum of what goes
    in.
    """
    recipe = library.recipe(ref)
    result: Yield = library.get("yields", ref)
    rates: list[Rate] = [*library.settings.own_units, *recipe.rates]
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
