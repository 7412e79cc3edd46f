"""A recipe as schema.org names its parts (https://schema.org/Recipe), for programs that read a page.

It says what a card says and no more: no diet that a recipe suits, because nobody may take that from a figure; nutrients only
where nothing is missing from them.
"""

from __future__ import annotations

from typing import Any, Final

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.declared import declared_nutrients_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import scaled_batch
from recipelang.model.names import Ref
from recipelang.units.amount import quantity_text
from recipelang.units.numbers import decimal_text, number_text

_NUTRIENTS: Final = {
    "calories": ("calories", "calories"),
    "total fat": ("fatContent", "g"),
    "saturated fat": ("saturatedFatContent", "g"),
    "trans fat": ("transFatContent", "g"),
    "cholesterol": ("cholesterolContent", "mg"),
    "sodium": ("sodiumContent", "mg"),
    "carbohydrate": ("carbohydrateContent", "g"),
    "dietary fiber": ("fiberContent", "g"),
    "total sugars": ("sugarContent", "g"),
    "protein": ("proteinContent", "g"),
}


def recipe_data(facts: Facts, ref: Ref, card: dict[str, Any]) -> dict[str, Any]:
    """The JSON-LD of a recipe's own size."""
    recipe = recipe_of(facts, ref)
    found: dict[str, Any] = {"@context": "https://schema.org", "@type": "Recipe", "name": recipe.name}
    if recipe.number:
        found["identifier"] = recipe.number
    if recipe.course:
        found["recipeCategory"] = recipe.course
    if recipe.portions:
        size = " and ".join(quantity_text(part.quantity) for part in recipe.portion)
        found["recipeYield"] = f"{number_text(recipe.portions)} portions{' of ' + size if size else ''}"
    batch = scaled_batch(facts, ref, recipe.portions)
    found["recipeIngredient"] = [
        ", ".join(filter(None, (f"{scaled.exact or 'to taste'} {line.name}", line.preparation)))
        for line, scaled in zip(recipe.lines, batch.lines, strict=True)
        if not line.alternative
    ]
    found["recipeInstructions"] = [
        {"@type": "HowToStep", "position": step["number"], "text": _step_text(step)} for step in card["steps"]
    ]
    nutrition = {
        _NUTRIENTS[one.name][0]: f"{decimal_text(one.amount, 1)} {_NUTRIENTS[one.name][1]}"
        for one in declared_nutrients_of(facts, ref)
        if one.name in _NUTRIENTS and one.amount is not None and not one.missing
    }
    if nutrition and not card["errors"]:
        found["nutrition"] = {"@type": "NutritionInformation", "servingSize": "1 portion", **nutrition}
    return found


def _step_text(step: dict[str, Any]) -> str:
    controls = [
        f"{'CCP: ' if one['ccp'] else ''}{' '.join(filter(None, (one['head_text'], one['limit_text'])))}."
        for one in step["controls"]
    ]
    return " ".join(("".join(part["text"] for part in step["words"]), *controls))
