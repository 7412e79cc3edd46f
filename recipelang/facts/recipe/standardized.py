"""What a standardized recipe also states, and this one does not.

The parts are those of the standardized recipe as the U.S. Department of Agriculture and State agencies describe it: title
and number, category, ingredients by weight and by measure, directions with pans, temperature and time, critical control
points, portion and serving utensil, yield, contribution, and the trials behind it (USDA FNS training bulletin; Minnesota
Department of Education; Connecticut State Department of Education).
"""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.model.recipe import HEATING, Recipe, is_cooked
from recipelang.units.table import COUNT


@fact
def not_stated_of(facts: Facts, ref: Ref) -> tuple[str, ...]:
    """The parts of a standardized recipe that a recipe does not state, in the words of a card."""
    recipe = recipe_of(facts, ref)
    controls = [control for step in recipe.steps for control in step.controls]
    checks = (
        ("recipe number", bool(recipe.number)),
        ("category", bool(recipe.course)),
        ("HACCP process", recipe.process is not None),
        ("grades and meals", bool(recipe.audience)),
        ("portion size", bool(recipe.portion)),
        ("serving utensil", bool(recipe.serve_with) or recipe.container is not None or _is_counted(recipe)),
        ("pan size", bool(recipe.pans) or not _is_baked_or_panned(recipe)),
        ("measured yield", bool(recipe.yields) or not is_cooked(recipe)),
        ("directions", recipe.has_steps),
        ("cooking temperature", not is_cooked(recipe) or any(one.verb in HEATING and one.heat for one in controls)),
        ("critical control points", any(one.ccp for one in controls)),
        ("contribution to the meal pattern", bool(recipe.claims) or recipe.claims_nothing),
        ("how long it keeps", bool(recipe.keeps)),
        ("what is done with leftovers", recipe.leftovers is not None),
        ("trials", recipe.tested is not None),
    )
    lacks = [name for name, stated in checks if not stated]
    sided = [measured for measured in lines_of(facts, ref) if measured.sides and not measured.line.to_taste]
    one = [measured.line.name for measured in sided if len(measured.sides) < 2 and not _counts(measured.sides)]
    if one:
        lacks.append(f"weight and measure both, of {one[0]}{f' and {len(one) - 1} more' if len(one) > 1 else ''}")
    return tuple(lacks)


def _counts(sides: tuple[object, ...]) -> bool:
    return any(getattr(side, "dimension", "") not in ("mass", "volume") for side in sides)


def _is_counted(recipe: Recipe) -> bool:
    return any(part.quantity.dimension == COUNT for part in recipe.portion)


def _is_baked_or_panned(recipe: Recipe) -> bool:
    return any(control.verb == "cook at" for step in recipe.steps for control in step.controls)
