"""Every computed figure of a recipe as JSON (`evaluate --format json`), a stable contract for other programs.

Exact figures are strings holding a fraction or a decimal; measured ones are decimals with the digits they deserve. A
figure that nothing is known of is null; one with a `missing_from` that is not empty is a lower bound.
"""

from __future__ import annotations

from typing import Any

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import meaning_of
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.food.labels import DEFAULT, UNDATED
from recipelang.facts.recipe.allergens import Allergens, allergens_of
from recipelang.facts.recipe.batch import lines_of, yield_of
from recipelang.facts.recipe.container_fill import Fill, fill_of
from recipelang.facts.recipe.cost import Cost, cost_of
from recipelang.facts.recipe.credits import Credits, all_contributions, credits_of
from recipelang.facts.recipe.label_sources import LabelSources, label_sources_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.nutrients import Nutrients, nutrients_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import scaled_lines
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.model.components import VEGETABLE
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import NUTRIENT_TITLES
from recipelang.output.cautions import ALLERGEN_CAUTION, SAFETY_CAUTION
from recipelang.rules.errors import ALLERGENS, SAFETY, errors_of
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import decimal_text

VERSION = 1


def recipes_json(facts: Facts, refs: list[Ref], portions: Fraction | None, per: str) -> dict[str, Any]:
    """The document of `evaluate --format json`."""
    return {"version": VERSION, "recipes": [recipe_json(facts, ref, portions, per) for ref in refs]}


def recipe_json(facts: Facts, ref: Ref, portions: Fraction | None = None, per: str = "portion") -> dict[str, Any]:
    """One recipe: all figures for its own number of portions, or for another."""
    recipe = recipe_of(facts, ref)
    lines = lines_of(facts, ref)
    result = yield_of(facts, ref)
    timeline = timeline_of(facts, ref)
    declared = meaning_of(facts, ref)
    assert declared is not None
    factor = portions / recipe.portions if portions and recipe.portions else ONE
    shown = portions or recipe.portions
    return {
        "name": recipe.name,
        "path": declared.home.path,
        "kind": declared.kind,
        "based_on": recipe.base[0] if recipe.base else None,
        "number": recipe.number or None,
        "course": recipe.course or None,
        "portions": None if shown is None else str(shown),
        "portion": {
            "stated": _portion_text(recipe),
            "mass_g": _measured(result.portion_mass),
            "volume_fl_oz": _fluid_ounces(result.portion_volume),
        },
        "credits": _credits(credits_of(facts, ref)),
        "allergens": {
            **_allergens(allergens_of(facts, ref)),
            "labels": _labels(label_sources_of(facts, ref)),
            "errors": errors_of(facts, ref, ALLERGENS),
            "caution": ALLERGEN_CAUTION,
        },
        "nutrients": _nutrients(nutrients_of(facts, ref), per, factor),
        "cost": _cost(cost_of(facts, ref), per, factor),
        "yield": {
            "mass_g": _measured(_times(result.mass.known, factor)),
            "volume_fl_oz": _fluid_ounces(_times(result.volume.known, factor)),
            "missing_from": _missing((*result.mass.missing, *result.volume.missing)),
        },
        "container": _container(fill_of(facts, ref)),
        "safety": {
            "process": recipe.process[0] if recipe.process else None,
            "computed": timeline.computed_process if timeline.controls else None,
            "needs_control": timeline.is_tcs if timeline.lots else None,
            "keeps": _keeps(recipe),
            "errors": errors_of(facts, ref, SAFETY),
            "caution": SAFETY_CAUTION,
        },
        "ingredients": _ingredients(facts, ref, recipe, lines, factor),
    }


def _portion_text(recipe: Recipe) -> str | None:
    parts = [f"{quantity_text(part.quantity)}{' ' + part.name if part.name else ''}" for part in recipe.portion]
    return " and ".join(parts) or None


def _times(value: Fraction | None, factor: Fraction) -> Fraction | None:
    return None if value is None else value * factor


def _measured(value: Fraction | None) -> str | None:
    if value is None:
        return None
    return decimal_text(value, 1 if value >= 100 else 2 if value >= 1 else 4)


def _fluid_ounces(cups: Fraction | None) -> str | None:
    return None if cups is None else _measured(cups * 8)


def _missing(gaps: tuple[Gap, ...]) -> list[str]:
    return list(dict.fromkeys(gap.name for gap in gaps))


def _credits(credits: Credits) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = []
    for row in credits.rows:
        entry: dict[str, Any] = {"component": row.component.name}
        if row.component.name == VEGETABLE:
            entry["subgroup"] = row.component.subgroup
        entry |= {"unit": row.component.unit, "exact": str(row.exact), "credited": str(row.credited)}
        if row.least != row.most:
            entry |= {"least": str(row.least), "most": str(row.most), "credited_least": str(row.credited_least)}
        if row.juice:
            entry["as_juice"] = str(row.juice)
        if row.component.name == "grain":
            entry["whole_grain_rich"] = credits.whole_grain_rich
        entry["missing_from"] = _missing(credits.missing(row.component))
        rows.append(entry)
    for component in credits.unknown:
        entry = {"component": component.name}
        if component.name == VEGETABLE:
            entry["subgroup"] = component.subgroup
        missing = _missing(credits.missing(component))
        rows.append(entry | {"unit": component.unit, "exact": None, "credited": None, "missing_from": missing})
    return rows


def _allergens(allergens: Allergens) -> dict[str, Any]:
    return {
        "contains": [name for name, _ in allergens.contains],
        "may_contain": [name for name, _ in allergens.may_contain],
        "unknown": list(dict.fromkeys(road[-1] for road in allergens.unknown)),
        "kinds": {name: list(words) for name, words in allergens.kinds},
    }


def _labels(sources: LabelSources) -> dict[str, Any]:
    """What the allergens rest on: labels with the day they were read, and the foods of which nobody read one."""
    return {
        "read": [{"name": one.name, "on": one.read.isoformat()} for one in sources.read if one.read is not None],
        "pantry_defaults": list(sources.names(DEFAULT)),
        "undated": list(sources.names(UNDATED)),
    }


def _nutrients(nutrients: Nutrients, per: str, factor: Fraction) -> dict[str, Any]:
    units = dict(nutrients.units)
    totals = (
        nutrients.per_portion()
        if per == "portion"
        else tuple((name, Total(_times(found.known, factor), found.missing)) for name, found in nutrients.batch)
    )
    return {
        "per": per,
        "values": {
            NUTRIENT_TITLES.get(name, name): {
                "value": None if found.known is None else _nutrient(found.known, units.get(name, "g")),
                "unit": units.get(name, "g"),
                "missing_from": _missing(found.missing),
            }
            for name, found in totals
        },
    }


def _nutrient(value: Fraction, unit: str) -> str:
    return decimal_text(value, 2 if unit == "g" or value < 10 else 1)


def _cost(cost: Cost, per: str, factor: Fraction) -> dict[str, Any]:
    portion, batch = cost.portion, cost.batch
    batch_value = _times(batch.known, factor)
    shown = portion.known if per == "portion" else batch_value
    return {
        "value": None if shown is None else decimal_text(shown, 4),
        "unit": "USD",
        "per": per,
        "batch": None if batch_value is None else decimal_text(batch_value, 2),
        "missing_from": _missing(batch.missing),
    }


def _container(fill: Fill) -> dict[str, Any] | None:
    main = fill.main
    if main is None:
        return None
    sides = [_filled(one) for one in fill.containers if one.on_the_side]
    return {**_filled(main), "on_the_side": sides}


def _filled(filled: Any) -> dict[str, Any]:
    return {
        "name": filled.name,
        "holds_fl_oz": _fluid_ounces(filled.holds),
        "room_fl_oz": _fluid_ounces(filled.room),
        "filled_fl_oz": _fluid_ounces(filled.filled.known),
        "missing_from": _missing(filled.filled.missing),
    }


def _keeps(recipe: Recipe) -> dict[str, str] | None:
    if not recipe.keeps:
        return None
    first = recipe.keeps[0]
    return {"value": str(first.time.value), "unit": first.time.unit.name, "place": first.place}


def _ingredients(
    facts: Facts, ref: Ref, recipe: Recipe, lines: tuple[Measured, ...], factor: Fraction
) -> list[dict[str, Any]]:
    parts: dict[int, list[dict[str, Any]]] = {}
    for part in all_contributions(facts, ref):
        entry: dict[str, Any] = {"component": part.component.name}
        if part.component.name == VEGETABLE:
            entry["subgroup"] = part.component.subgroup
        parts.setdefault(part.at, []).append({**entry, "unit": part.component.unit, "exact": str(part.amount * factor)})
    scaled = scaled_lines(facts, ref, factor)
    found: list[dict[str, Any]] = []
    for index, measured in enumerate(lines):
        line = measured.line
        entry = {
            "name": line.name,
            "amount": scaled[index].exact or "to taste",
            "mass_g": _measured(_times(measured.grams, factor)),
            "volume_fl_oz": _fluid_ounces(_times(measured.cups, factor)),
            "credits": parts.get(index, []),
        }
        if factor != 1:
            entry["kitchen"] = scaled[index].kitchen or "to taste"
        if line.alternative:
            entry["alternative"] = True
        if line.optional:
            entry["optional"] = True
        if line.on_the_side:
            entry["on_the_side"] = True
        found.append(entry)
    return found
