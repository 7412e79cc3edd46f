"""The portions do not add up to what the ingredients make.

Why
    A batch that makes less than it promises runs out in front of the last children in line; one that makes more feeds the
    bin, or portions larger than planned.
Source
    7 CFR 210.2, standardized recipe: an established yield and quantity. The tolerance of 10% is common practice, no
    source.
Breaks
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 3 oz
        //                   ^^^^ yield-disagrees: "2 oz"
        process no cook
        ingredients
            6 lb 4 oz whipped ricotta
Fixed
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 2 oz
        process no cook
        ingredients
            6 lb 4 oz whipped ricotta
Leaves alone
    food whole wheat flour
        weighs 120 g per cup
    recipe flat bread
        makes 50 portions of 1 oz
        loses 12% in baking
        ingredients
            3 lb 8 oz whole wheat flour, not credited
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.batch import Yield
from recipelang.facts.recipe.portion_room import is_over_room
from recipelang.findings.finding import WARNING, Figure, Finding, Fix, Place
from recipelang.model.recipe import Recipe, is_cooked, is_uncooked_mixture
from recipelang.rules.credits._slips import per_portion_fix
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import mass_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.kitchen import kitchen_text
from recipelang.units.numbers import number_text, round_down, round_half_up
from recipelang.units.table import CUP, MASS, VOLUME

ONE_PORTION = Fraction(1, 5)
"""How far the amounts of one portion may be from the size that is stated, as kitchens round (common practice, no source)."""


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.portions or not recipe.portion:
        return
    result = subject.yields
    tolerance = dict(subject.facts.settings.tolerances)["yield"]
    spot = recipe.portion[0].spot
    over = is_over_room(recipe, subject.credits)
    for side in recipe.yields:
        stated = result.stated_mass if side.quantity.dimension == MASS else result.stated_volume
        if side.quantity.dimension in (MASS, VOLUME) and stated is not None:
            made = side.quantity.base
            if over and made > stated * recipe.portions:
                return  # portions too small for what is claimed of them: credit-exceeds-portion says it
            if abs(made - stated * recipe.portions) > tolerance * stated * recipe.portions:
                yield _finding(
                    subject, recipe, spot, stated, made, side.quantity.dimension, "the batch was measured at"
                )
            return
    yield from _by_sum(subject, recipe, result, spot, tolerance, over)


def _by_sum(
    subject: Subject, recipe: Recipe, result: Yield, spot: Place, tolerance: Fraction, over: bool
) -> Iterator[Finding]:
    assert recipe.portions
    cooked = is_cooked(recipe)
    for node, stated, made in (
        (MASS, result.stated_mass, result.mass.complete),
        (VOLUME, result.stated_volume, result.volume.complete),
    ):
        if stated is None or made is None or not made:
            continue
        if node == VOLUME and result.volume_is_summed and not is_uncooked_mixture(recipe):
            continue
        needed = stated * recipe.portions
        if needed - made > tolerance * needed:
            yield _finding(subject, recipe, spot, stated, made, node, "the ingredients make")
            return
        # what a cooked dish gives off is unknown unless a `loses` line says it
        if made - needed > tolerance * needed and not (cooked and not recipe.loses) and not over:
            yield _finding(subject, recipe, spot, stated, made, node, "the ingredients make")
            return


def _finding(
    subject: Subject, recipe: Recipe, spot: Place, stated: Fraction, made: Fraction, node: str, what: str
) -> Finding:
    assert recipe.portions
    portions = number_text(recipe.portions)
    size = quantity_text(recipe.portion[0].quantity) if len(recipe.portion) == 1 else _shown(stated, node)
    needed, whole = _shown(stated * recipe.portions, node), _shown(made, node)
    each = _each(made / recipe.portions, stated, node)
    serves = number_text(Fraction((made / stated).__floor__()))
    fixes: tuple[Fix, ...] = ()
    if _is_one_portion(recipe, made / stated):
        help = "write `ingredients per portion`: these are the amounts of one portion"
        fix = per_portion_fix(subject)
        fixes = (fix,) if fix is not None else ()
    else:
        help = f"make {serves} {'portion' if serves == '1' else 'portions'} of {size}, or portions of "
        help += _portion(made / recipe.portions, node)
        if node == MASS:
            help += "; if water is taken up or given off in cooking, write it as an ingredient or as `loses …`"
    return subject.finding(
        spot,
        f"{portions} portions of {size} need {needed}, but {what} {whole}: {each} each.",
        figures=(
            Figure("needed", "portions", needed, f"{portions} of {size}"),
            Figure("found", "batch", whole, f"{each} for each of {portions}"),
        ),
        source="7 CFR 210.2, standardized recipe (tolerance: common practice, no source)",
        help=help,
        fixes=fixes,
    )


def _is_one_portion(recipe: Recipe, times: Fraction) -> bool:
    """Whether ingredients for so many portions are those of a single one."""
    return not recipe.per_portion and not recipe.yields and abs(times - 1) <= ONE_PORTION


def _shown(value: Fraction, node: str) -> str:
    """A figure that is compared with another one: never rounded as kitchens round, which would hide the difference, and
    measures always in cups."""
    if node == MASS:
        return mass_text(value)
    return f"{number_text(value)} {CUP.named(value)}"


def _each(value: Fraction, stated: Fraction, node: str) -> str:
    """What a portion comes to: to the eighth of a cup that a cook can measure, where that still shows the difference."""
    near = round_half_up(value, Fraction(1, 8))
    if node != VOLUME or value.denominator in (1, 2, 3, 4, 8) or near in (0, stated):
        return _shown(value, node)
    return f"about {_shown(near, node)}"


def _portion(value: Fraction, node: str) -> str:
    """A portion that a tool can serve, no larger than the batch allows."""
    step = Fraction(1, 8)
    return _shown(round_down(value, step), VOLUME) if node == VOLUME and value >= step else kitchen_text(value, node)
