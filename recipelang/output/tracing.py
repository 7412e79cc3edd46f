"""The derivation of one figure as lines of text: every contribution, the sum, the division, the rounding, the sources.

The contributions are those that the figure itself is the sum of, from the same functions.
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.food.as_purchased import item_of
from recipelang.facts.food.food import food_of
from recipelang.facts.food.nutrition import nutrition_of
from recipelang.facts.recipe.allergens import Road, allergens_of
from recipelang.facts.recipe.batch import lines_of, yield_of
from recipelang.facts.recipe.container_fill import Fill, fill_of
from recipelang.facts.recipe.cost import Cost, cost_of
from recipelang.facts.recipe.credits import Credits, all_contributions, credits_of
from recipelang.facts.recipe.derivation import belongs_to, credit_text, exact_credit_text, left_over, rate_text
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.nutrients import Nutrients, amount_of, nutrients_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import unit_text
from recipelang.model.components import ADDITIONAL, STEP, VEGETABLE, Component, read_component
from recipelang.model.names import Ref
from recipelang.model.nutrient_names import nutrient_of
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import ALLERGEN_SPELLINGS, ALLERGENS, NUTRIENT_TITLES, NUTRIENTS
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.columns import table
from recipelang.output.recipe_text import dollars, error_note
from recipelang.output.safety_tracing import safety_lines
from recipelang.syntax.split import fold
from recipelang.units.amount import fluid_ounces_text, mass_text, quantity_text, volume_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text, number_text

_FIGURES = ("credits", "allergens", "cost", "yield", "fill", "safety", *NUTRIENTS)


class UnknownFigure(ValueError):
    """A figure that no recipe has; the message says which there are."""


def trace_lines(facts: Facts, ref: Ref, figure: str) -> list[str]:
    """The derivation of a figure: `credits fruit`, `sodium`, `cost`, `allergens milk`, `yield`, `fill`. Raises
    UnknownFigure."""
    words = fold(figure)
    first, _, rest = words.partition(" ")
    recipe = recipe_of(facts, ref)
    if first in ("credits", "credit"):
        return _credits(facts, ref, recipe, rest)
    if first in ("allergens", "allergen"):
        return _allergens(facts, ref, recipe, rest)
    if words == "cost":
        return _cost(cost_of(facts, ref), recipe)
    if words in ("yield", "mass", "weight", "volume"):
        return _yield(facts, ref, recipe)
    if words in ("fill", "container", "containers"):
        return _fill(fill_of(facts, ref), recipe)
    if words in ("safety", "process", "timeline"):
        return [*safety_lines(facts, ref), *error_note(facts, ref)]
    nutrient = nutrient_of(words)
    nutrients = nutrients_of(facts, ref)
    if nutrients.total(nutrient) is not None:
        return _nutrient(facts, ref, recipe, nutrient, nutrients)
    near = nearest(words, _FIGURES, 1)
    hint = f"; did you mean `{near[0]}`?" if near else ""
    raise UnknownFigure(
        f"`{figure}` is no figure of a recipe{hint}; figures are credits COMPONENT, allergens NAME, cost, yield, fill, safety and the "
        "nutrients"
    )


def _head(recipe: Recipe, what: str) -> str:
    return f"{recipe.name}: {what}"


# ---- credits ---------------------------------------------------------------------------------------------------------


def _credits(facts: Facts, ref: Ref, recipe: Recipe, words: str) -> list[str]:
    credits = credits_of(facts, ref)
    if not words:
        lines: list[str] = []
        for row in credits.rows:
            lines += [*_component(facts, ref, recipe, credits, row.component), ""]
        return lines[:-1] or [_head(recipe, "credits nothing")]
    component = read_component(words)
    if component is None:
        raise UnknownFigure(
            f"`{words}` is not a meal component; components are meat alternate, grain, fruit, vegetable, milk"
        )
    return _component(facts, ref, recipe, credits, component)


def _component(facts: Facts, ref: Ref, recipe: Recipe, credits: Credits, component: Component) -> list[str]:
    lines = [_head(recipe, f"credits {component.title}")]
    measured = lines_of(facts, ref)
    parts = [part for part in all_contributions(facts, ref) if belongs_to(part, component)]
    rows: list[list[str]] = []
    for part in parts:
        name, amount = "the dish as a whole", ""
        if part.at >= 0:
            line = measured[part.at].line
            name = ("or " if line.alternative else "") + line.name
            amount = " = ".join(quantity_text(side) for side in measured[part.at].sides)
        label = f"{part.component.subgroup} " if component.name == VEGETABLE and part.component.subgroup else ""
        rows.append([amount, name + rate_text(part), label + exact_credit_text(part.amount, component)])
    lines += table(rows)
    row = credits.row(component)
    if row is None or not recipe.portions:
        lines.append("  no ingredient credits it" if not parts else "  the number of portions is unknown")
    else:
        if component.subgroup == ADDITIONAL:
            lines += _left_over(recipe, credits)
        lines.append(
            f"  together {exact_credit_text(row.exact * recipe.portions, component)} for {number_text(recipe.portions)} "
            f"portions: {exact_credit_text(row.exact, component)} each"
        )
        if row.room is not None:
            lines.append(f"  a portion has room for {exact_credit_text(row.room, component)} of it by its own volume")
        step = credit_text(STEP[component.name], component)
        shown = credit_text(row.credited, component) if row.credited else "nothing"
        lines.append(f"  rounded down once to the nearest {step}: credits {shown}")
        if row.least != row.most:
            lines.append(
                f"  over the alternatives: from {exact_credit_text(row.least, component)} to "
                f"{exact_credit_text(row.most, component)}"
            )
    lines += _evidence(facts, [measured[part.at] for part in parts if part.at >= 0])
    lines += [f"  not counted: {gap.name}, because {gap.because}" for gap in credits.missing(component)]
    return lines


def _left_over(recipe: Recipe, credits: Credits) -> list[str]:
    rows: list[list[str]] = []
    for one in left_over(recipe, credits):
        exact, left = exact_credit_text(one.exact, one.component), exact_credit_text(one.left, one.component)
        less = f"less {credit_text(one.held, one.component)} {one.why}" if one.held else "nothing claimed"
        rows.append([one.component.title, f"{exact} each", less, f"leaves {left}"])
    return table(rows)


def _evidence(facts: Facts, measured: list[Measured]) -> list[str]:
    """The documents that the foods of a derivation rest on."""
    found: dict[str, None] = {}
    for one in measured:
        if one.is_food and one.ref is not None:
            own = food_of(facts, one.ref)
            item = None if own.crediting.lines or own.evidence else item_of(facts, one.ref)
            ref = one.ref if item is None else item.ref
            food = food_of(facts, ref)
            name = own.name if item is None else f"{own.name}, through {food.name}"
            where = "the built-in pantry" if ref.startswith("pantry:") else "the library"
            evidence = food.evidence_text or "no evidence stated"
            found[f"  {name}: {evidence} ({where})"] = None
    return ["  evidence", *(f"  {line}" for line in found)] if found else []


# ---- allergens -------------------------------------------------------------------------------------------------------


def _allergens(facts: Facts, ref: Ref, recipe: Recipe, words: str) -> list[str]:
    allergens = allergens_of(facts, ref)
    names = list(ALLERGENS)
    if words:
        name = ALLERGEN_SPELLINGS.get(words)
        if name is None:
            raise UnknownFigure(f"`{words}` is not one of the nine allergens: {', '.join(ALLERGENS)}")
        names = [name]
    contains, may_contain = dict(allergens.contains), dict(allergens.may_contain)
    lines: list[str] = []
    for name in names:
        roads: tuple[Road, ...] = contains.get(name, ())
        perhaps: tuple[Road, ...] = may_contain.get(name, ())
        if not (roads or perhaps or words):
            continue
        lines.append(_head(recipe, f"allergens {name}"))
        lines += [f"  contains, through {' → '.join(road)}" for road in roads]
        lines += [f"  may contain, through {' → '.join(road)}" for road in perhaps]
        if not roads and not perhaps:
            lines.append("  no label that was read names it")
    lines += [f"  unknown: {' → '.join(road)} makes no allergen statement" for road in allergens.unknown]
    lines.append(f"  {ALLERGEN_CAUTION}")
    return lines


# ---- cost, yield, fill -----------------------------------------------------------------------------------------------


def _cost(cost: Cost, recipe: Recipe) -> list[str]:
    rows = [[dollars(part.cost), part.name, part.how] for part in cost.parts]
    lines = [_head(recipe, "cost of a batch"), *table(rows, frozenset({0}))]
    if cost.batch.known is not None:
        lines.append(f"  together {dollars(cost.batch.known)}")
    if cost.portion.known is not None and cost.portions:
        lines.append(f"  for each of {number_text(cost.portions)} portions: {dollars(cost.portion.known)}")
    lines += [f"  left out: {gap.name}, because {gap.because}" for gap in cost.batch.missing]
    return lines


def _yield(facts: Facts, ref: Ref, recipe: Recipe) -> list[str]:
    result = yield_of(facts, ref)
    rows: list[list[str]] = []
    for measured in lines_of(facts, ref):
        if measured.line.alternative:
            continue
        grams, cups = measured.grams, measured.cups
        rows.append(
            [
                measured.line.name,
                "weight unknown" if grams is None else mass_text(grams),
                "volume unknown" if cups is None else volume_text(cups),
                f"discard {decimal_text(measured.line.discard * 100, 1)}%" if measured.line.discard else "",
            ]
        )
    lines = [_head(recipe, "yield of a batch"), *table(rows)]
    if result.goes_in.known is not None:
        lines.append(f"  ingredients: {mass_text(result.goes_in.known)}")
    if recipe.loses:
        lines.append(f"  loses {decimal_text(recipe.loses * 100, 1)}%")
    lines += [
        f"  measured: {' = '.join(quantity_text(side.quantity) for side in recipe.yields)}" for _ in recipe.yields[:1]
    ]
    if result.mass.known is not None:
        lines.append(f"  cooked weight: {mass_text(result.mass.known)}")
    if result.volume.known is not None:
        how = "summed, because nothing is cooked" if result.volume_is_summed else "by the dish's own measure"
        lines.append(f"  volume: {volume_text(result.volume.known)} ({how})")
    gaps: dict[Gap, None] = dict.fromkeys((*result.mass.missing, *result.volume.missing))
    lines += [f"  missing: {gap.name}, because {gap.because}" for gap in gaps]
    return lines


def _fill(fill: Fill, recipe: Recipe) -> list[str]:
    lines: list[str] = []
    for filled in fill.containers:
        lines.append(_head(recipe, f"fill of {filled.name}"))
        lines += table([[fluid_ounces_text(cups), name] for name, cups in filled.parts], frozenset({0}))
        if filled.filled.known is not None:
            lines.append(f"  filled {fluid_ounces_text(filled.filled.known)}")
        if filled.holds is not None and filled.room is not None:
            lines.append(
                f"  holds {fluid_ounces_text(filled.holds)}, {fluid_ounces_text(filled.room)} below its headspace"
            )
        lines += [f"  missing: {gap.name}, because {gap.because}" for gap in filled.filled.missing]
    return lines or [_head(recipe, "is packed in no container")]


# ---- nutrients -------------------------------------------------------------------------------------------------------


def _nutrient(facts: Facts, ref: Ref, recipe: Recipe, name: str, nutrients: Nutrients) -> list[str]:
    title = NUTRIENT_TITLES.get(name, name)
    unit = unit_text(dict(nutrients.units).get(name, "g"))
    rows: list[list[str]] = []
    for measured in lines_of(facts, ref):
        if measured.line.alternative or measured.ref is None:
            continue
        value, how = _part(facts, measured, name, unit)
        rows.append(["unknown" if value is None else f"{decimal_text(value, 1)} {unit}", measured.line.name, how])
    lines = [_head(recipe, f"{title} of a batch"), *table(rows, frozenset({0}))]
    found = nutrients.total(name) or Total(None)
    if found.known is not None:
        lines.append(f"  together {decimal_text(found.known, 1)} {unit}")
        if recipe.portions:
            each = decimal_text(found.known / recipe.portions, 2)
            lines.append(f"  for each of {number_text(recipe.portions)} portions: {each} {unit}")
    lines += [f"  missing: {gap.name}, because {gap.because}" for gap in found.missing]
    return lines


def _part(facts: Facts, measured: Measured, name: str, unit: str) -> tuple[Fraction | None, str]:
    """One ingredient's part of a nutrient, and by which statement."""
    assert measured.ref is not None
    if not measured.is_food:
        inner = nutrients_of(facts, measured.ref)
        batches = None if measured.gap else measured.base("batch")
        total = inner.total(name)
        if batches is None or total is None or total.known is None:
            return None, "by its own recipe"
        return total.known * batches * (1 - measured.line.discard), "by its own recipe"
    nutrition = nutrition_of(facts, measured.ref)
    stated = dict(nutrition.values).get(name) if nutrition is not None else None
    if nutrition is None or stated is None:
        return None, "not stated"
    amount = Gap(measured.line.name, "") if measured.gap else amount_of(measured, nutrition)
    if isinstance(amount, Gap):
        return None, "its amount can't be turned into the statement's"
    where = "pantry" if measured.ref.startswith("pantry:") else "library"
    per = nutrition.per.unit.name if nutrition.per.value == 1 else quantity_text(nutrition.per)
    how = f"{decimal_text(stated, 3)} {unit} per {per} ({where})"
    return stated * amount * (1 - measured.line.discard), how
