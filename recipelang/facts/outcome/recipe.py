"""What a recipe or a variation is: what it credits, contains, costs, holds, and how it is kept safe, for a portion."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import source_of
from recipelang.facts.outcome.values import Credit, Figures, Room, Sum, missing_names
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.batch import yield_of
from recipelang.facts.recipe.container_fill import fill_of
from recipelang.facts.recipe.cost import cost_of
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.nutrients import nutrients_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.units.amount import quantity_text
from recipelang.units.numbers import number_text


@fact
def credit_figures(facts: Facts, ref: Ref) -> Figures:
    """What a portion credits; a component of which nothing is known stands in it as unknown."""
    credits = credits_of(facts, ref)
    found: Figures = {}
    for row in credits.rows:
        found[f"credits {row.component.title}"] = Credit(
            row.component.unit,
            row.exact,
            row.credited,
            row.least,
            row.most,
            row.credited_least,
            missing_names(credits.missing(row.component)),
        )
    for component in credits.unknown:
        missing = missing_names(credits.missing(component))
        found[f"credits {component.title}"] = Credit(component.unit, None, None, None, None, None, missing)
    if credits.whole_grain_rich is not None:
        found["whole grain-rich"] = credits.whole_grain_rich
    return found


@fact
def allergen_figures(facts: Facts, ref: Ref) -> Figures:
    """The allergens of a recipe with the kinds that labels name, and the foods whose labels say nothing."""
    allergens = allergens_of(facts, ref)
    kinds = dict(allergens.kinds)
    found: Figures = {f"contains {name}": tuple(sorted(kinds.get(name, ()))) for name, _ in allergens.contains}
    found.update((f"may contain {name}", ()) for name, _ in allergens.may_contain)
    unknown = tuple(sorted({road[-1] for road in allergens.unknown}))
    if unknown:
        found["allergens unknown"] = unknown
    return found


@fact
def cost_figures(facts: Facts, ref: Ref) -> Figures:
    """What a portion costs, in dollars."""
    portion = cost_of(facts, ref).portion
    return {"cost": Sum("USD", portion.known, missing_names(portion.missing))}


@fact
def nutrient_figures(facts: Facts, ref: Ref) -> Figures:
    """The nutrients of a portion of which anything is known."""
    nutrients = nutrients_of(facts, ref)
    units = dict(nutrients.units)
    return {
        f"nutrient {name}": Sum(units.get(name, "g"), found.known, missing_names(found.missing))
        for name, found in nutrients.per_portion()
        if found.known is not None
    }


@fact
def measure_figures(facts: Facts, ref: Ref) -> Figures:
    """How much a portion and a batch are."""
    recipe = recipe_of(facts, ref)
    result = yield_of(facts, ref)
    found: Figures = {
        "batch mass": Sum("g", result.mass.known, missing_names(result.mass.missing)),
        "batch volume": Sum("cup", result.volume.known, missing_names(result.volume.missing)),
    }
    if result.portion_mass is not None:
        found["portion mass"] = Sum("g", result.portion_mass)
    if result.portion_volume is not None:
        found["portion volume"] = Sum("cup", result.portion_volume)
    if recipe.portions is not None:
        found["portions"] = recipe.portions
    portion = " and ".join(
        f"{quantity_text(part.quantity)}{' ' + part.name if part.name else ''}" for part in recipe.portion
    )
    if portion:
        found["portion"] = portion
    return found


@fact
def container_figures(facts: Facts, ref: Ref) -> Figures:
    """How full a portion's containers are."""
    found: Figures = {}
    for filled in fill_of(facts, ref).containers:
        where = f"fill {filled.name}{' on the side' if filled.on_the_side else ''}"
        found[where] = Room(filled.filled.known, filled.room, missing_names(filled.filled.missing))
        for name, fits, pieces in filled.counts:
            found[f"{where}, pieces of {name}"] = f"{number_text(pieces)} of {number_text(fits)}"
    return found


@fact
def safety_figures(facts: Facts, ref: Ref) -> Figures:
    """How a recipe is kept safe: its process, its process lines, whether it needs control, how long it keeps."""
    recipe = recipe_of(facts, ref)
    timeline = timeline_of(facts, ref)
    found: Figures = {}
    if recipe.process is not None:
        found["process"] = recipe.process[0]
    if timeline.controls:
        found["computed process"] = timeline.computed_process
        found["process lines"] = tuple(
            " ".join(source_of(facts, control.home).text[control.start : control.end].split())
            for control in timeline.controls
        )
    if timeline.lots:
        found["needs control"] = timeline.is_tcs
        if timeline.age:
            found["age"] = Sum("h", timeline.age / 3600)
    found.update((f"keeps {one.place}", Sum("h", one.time.base / 3600)) for one in recipe.keeps)
    return found


@fact
def promise_figures(facts: Facts, ref: Ref) -> Figures:
    """What a recipe says of itself: what it claims, promises, and what it is for."""
    recipe = recipe_of(facts, ref)
    found: Figures = {}
    claims = ", ".join(
        f"{number_text(claim.amount)} {claim.component.unit} {claim.component.title}" for claim in recipe.claims
    )
    if claims or recipe.claims_nothing:
        found["claims"] = claims or "nothing"
    if recipe.made_without:
        found["made without"] = tuple(sorted(name for name, _ in recipe.made_without))
    found.update((name, text) for name, text in _said(recipe) if text)
    return found


def _said(recipe: Recipe) -> tuple[tuple[str, str], ...]:
    container = recipe.container[0] if recipe.container is not None else ""
    return ("number", recipe.number), ("course", recipe.course), ("for", recipe.audience), ("in", container)
