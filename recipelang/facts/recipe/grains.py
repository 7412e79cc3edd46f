"""Grain of products made from scratch, by the one method the recipe names.

By creditable grain: 16 g an ounce equivalent in groups A to G, 28 g in H and I. By weight: the product's own weight
against the grain table. By cooked volume: half a cup served is one ounce equivalent, if the batch makes that much.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.unknown import Gap
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.batch import Yield, lines_of, yield_of, yield_of_lines
from recipelang.facts.recipe.contributions import Contribution, amount_per
from recipelang.facts.recipe.measured import Measured, missing_measure
from recipelang.model.components import GRAIN, Component
from recipelang.model.food import Crediting
from recipelang.model.measures import node_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import GRAIN_GROUPS, creditable_grams, other_grain_limit
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import GRAM, GRAMS_PER_OUNCE, KILOGRAM, MASS

HALF_CUP = Fraction(1, 2)

Flours = tuple[Fraction, Fraction]
"""Grams of creditable grain that go into a product, and of whole grain in it."""


class ScratchGrain(Record):
    """The grain of a scratch product."""

    contributions: tuple[Contribution, ...]
    gaps: tuple[tuple[int, Gap], ...]
    creditable: Fraction
    """Grams of creditable grain in the batch."""
    whole: Fraction
    """Grams of it that are whole grain."""
    other: Fraction
    """Grams of grain in the batch that does not credit."""
    over_limit: bool
    """Whether the grain that does not credit is too much for the product to credit at all."""
    mixed: tuple[int, ...]
    """Lines of ready grain products that the recipe's method can't take in."""
    short_volume: tuple[Fraction, Fraction] | None
    """Cups that the portions need and cups that the batch makes, where it makes too little."""


def scratch_grain(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> ScratchGrain | None:
    """The grain a recipe credits by its own method; None where it names none."""
    method = recipe.grains_by
    if method is None or recipe.is_drink:
        return None
    if method.method == "creditable grain":
        return _by_creditable_grain(facts, recipe, lines, method.group)
    if not method.group:
        return _nothing()
    if method.method == "weight":
        return _by_weight(_yield(facts, ref, recipe, lines), recipe, method.group, _flours(facts, lines))
    return _by_cooked_volume(_yield(facts, ref, recipe, lines), recipe, _flours(facts, lines))


def _yield(facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...]) -> Yield:
    return yield_of(facts, ref) if lines is lines_of(facts, ref) else yield_of_lines(facts, ref, recipe, lines)


def _nothing(gaps: tuple[tuple[int, Gap], ...] = ()) -> ScratchGrain:
    return ScratchGrain(
        contributions=(),
        gaps=gaps,
        creditable=ZERO,
        whole=ZERO,
        other=ZERO,
        over_limit=False,
        mixed=(),
        short_volume=None,
    )


def _by_creditable_grain(facts: Facts, recipe: Recipe, lines: tuple[Measured, ...], group: str) -> ScratchGrain:
    contributions: list[Contribution] = []
    gaps: list[tuple[int, Gap]] = []
    mixed: list[int] = []
    creditable = whole = other = ZERO
    per_oz_eq = creditable_grams(group) if group else None
    for index, measured in enumerate(lines):
        line = measured.line
        if line.optional or line.to_taste or measured.food is None:
            continue
        crediting = crediting_of(facts, measured.food)
        kept = 1 - line.discard
        spoilt = other_grams(measured, crediting)
        if isinstance(spoilt, Gap):
            gaps.append((index, spoilt))
        elif not line.alternative:
            other += spoilt * kept
        if line.not_credited:
            continue
        if crediting.creditable is None:
            is_ready = crediting.group is not None or any(part.component.name == GRAIN for part in crediting.lines)
            if is_ready and not line.on_the_side:
                mixed.append(index)
            continue
        grams = _creditable_grams(measured, crediting)
        if isinstance(grams, Gap):
            gaps.append((index, grams))
            continue
        grams *= kept
        if not line.alternative:
            creditable += grams
            whole += grams * crediting.creditable.whole
        if per_oz_eq is not None:
            amount = grams / per_oz_eq
            contributions.append(
                Contribution(
                    index, Component(GRAIN), amount, amount, whole=crediting.creditable.whole, per_oz_eq=per_oz_eq
                )
            )
    over = bool(group and recipe.portions and other / recipe.portions > other_grain_limit(group))
    return ScratchGrain(
        contributions=() if over else tuple(contributions),
        gaps=tuple(gaps),
        creditable=creditable,
        whole=whole,
        other=other,
        over_limit=over,
        mixed=tuple(mixed),
        short_volume=None,
    )


def _creditable_grams(measured: Measured, crediting: Crediting) -> Fraction | Gap:
    stated = crediting.creditable
    assert stated is not None
    if measured.gap is not None:
        return measured.gap
    if stated.share is not None:
        grams = measured.grams_or_gap()
        return grams if isinstance(grams, Gap) else grams * stated.share
    assert stated.grams is not None
    assert stated.per is not None
    pieces = amount_per(measured, stated.per)
    return missing_measure(measured, node_of(stated.per.unit)) if pieces is None else pieces * stated.grams


def other_grams(measured: Measured, crediting: Crediting) -> Fraction | Gap:
    """Grams of grain that does not credit in what a line takes of a food; none where the food states none."""
    if crediting.other_share is None and crediting.other_grams is None:
        return ZERO
    if measured.gap is not None:
        return measured.gap
    if crediting.other_share is not None:
        grams = measured.grams_or_gap()
        return grams if isinstance(grams, Gap) else grams * crediting.other_share
    assert crediting.other_grams is not None
    assert crediting.other_per is not None
    pieces = amount_per(measured, crediting.other_per)
    return (
        missing_measure(measured, node_of(crediting.other_per.unit))
        if pieces is None
        else (pieces * crediting.other_grams)
    )


def _by_weight(result: Yield, recipe: Recipe, group: str, flours: Flours) -> ScratchGrain:
    """The finished product's weight against the grain table, in the unit the portion is stated in."""
    grams = result.portion_mass
    if grams is None or not recipe.portions:
        missing = result.mass.missing or (
            Gap(recipe.name, "what a portion weighs is not stated", "makes … portions of … oz"),
        )
        return _nothing(tuple((-1, gap) for gap in missing))
    unit = recipe.portion[0].quantity.unit if result.stated_mass is not None and recipe.portion else GRAM
    per_grams, per_ounces = GRAIN_GROUPS[group]
    metric = unit in (GRAM, KILOGRAM) or unit.dimension != MASS
    portion = grams / per_grams if metric else grams / GRAMS_PER_OUNCE / per_ounces
    return _whole_dish(portion * recipe.portions, group, recipe, flours)


def _by_cooked_volume(result: Yield, recipe: Recipe, flours: Flours) -> ScratchGrain:
    """Half a cup as served is one ounce equivalent, of what the batch really makes."""
    portion = result.stated_volume
    if not recipe.portions:
        return _nothing()
    batch = result.volume.complete
    short: tuple[Fraction, Fraction] | None = None
    if portion is not None:
        needed = portion * recipe.portions
        if batch is not None and not result.volume_is_summed and batch < needed:
            short = (needed, batch)
            portion = batch / recipe.portions
    elif batch is not None:
        portion = batch / recipe.portions
    else:
        gap = Gap(recipe.name, "what volume a portion has is not stated", "makes … portions of … cup")
        return _nothing(((-1, gap),))
    found = _whole_dish(portion / HALF_CUP * recipe.portions, "H", recipe, flours)
    return found._replace(short_volume=short)


def _whole_dish(amount: Fraction, group: str, recipe: Recipe, flours: Flours) -> ScratchGrain:
    """A product that credits as a whole. It is whole grain-rich on the recipe's word, unless its flours say otherwise."""
    creditable, of_whole = flours
    says = recipe.whole_grain_rich is not None and of_whole * 2 >= creditable
    part = Contribution(-1, Component(GRAIN), amount, amount, whole=Fraction(int(says)), group=group)
    return _nothing()._replace(contributions=(part,), creditable=creditable, whole=of_whole)


def _flours(facts: Facts, lines: tuple[Measured, ...]) -> Flours:
    """Grams of creditable grain that the ingredient lines are known to bring, and of whole grain in it; nothing where the
    weight of one is not known."""
    creditable = whole = ZERO
    for measured in lines:
        line = measured.line
        if line.optional or line.to_taste or line.alternative or measured.food is None:
            continue
        stated = crediting_of(facts, measured.food)
        if stated.creditable is None:
            continue
        grams = _creditable_grams(measured, stated)
        if isinstance(grams, Gap):
            return ZERO, ZERO
        creditable += grams
        whole += grams * stated.creditable.whole
    return creditable, whole
