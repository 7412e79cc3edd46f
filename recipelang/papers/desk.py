"""The desk side of a card, for whoever plans, buys and answers for it: nutrients, credits, roads of allergens, what is
bought, what is on file, and what a standardized recipe also states."""

from __future__ import annotations

from typing import Any

from recipelang.evaluate.facts import Facts
from recipelang.facts.food.food import food_of
from recipelang.facts.food.labels import DEFAULT, ITSELF, READ, standing_of
from recipelang.facts.recipe.allergens import Road, allergens_of
from recipelang.facts.recipe.as_bought import as_bought
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.cost import cost_of
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.declared import declared_nutrients_of
from recipelang.facts.recipe.derivation import credit_text, exact_credit_text
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.standardized import not_stated_of
from recipelang.findings.wording import shortlist
from recipelang.model.components import ADDITIONAL, VEGETABLE, Component
from recipelang.model.dates import day_text
from recipelang.model.names import PANTRY, Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import NUTRIENT_TITLES
from recipelang.papers.card_steps import Column
from recipelang.papers.process_text import process_text
from recipelang.units.amount import mass_text
from recipelang.units.duration import span_text
from recipelang.units.numbers import decimal_text, number_text

ROAD = " › "


def desk_of(facts: Facts, ref: Ref, columns: tuple[Column, ...]) -> dict[str, Any]:
    """The desk side of a recipe's card."""
    recipe = recipe_of(facts, ref)
    return {
        "timeline": _timeline(recipe),
        "nutrients": [
            {
                "name_text": NUTRIENT_TITLES.get(one.name, one.name),
                "amount_text": one.text,
                "missing_text": f"without {shortlist(one.missing)}" if one.missing else "",
            }
            for one in declared_nutrients_of(facts, ref)
        ],
        "credits": _credits(facts, ref),
        "allergens": _allergens(facts, ref),
        "made_without_text": ", ".join(name for name, _ in recipe.made_without),
        "buying": _buying(facts, ref, columns),
        "files": [_on_file(facts, measured) for measured in lines_of(facts, ref)],
        "cost_text": _cost(facts, ref),
        "tested_text": _tested(recipe),
        "lacks": list(not_stated_of(facts, ref)),
    }


def _timeline(recipe: Recipe) -> list[dict[str, Any]]:
    """One slot for each process line, in order: what happens, how long, in which zone."""
    found: list[dict[str, Any]] = []
    ccp = 0
    for step in recipe.steps:
        for control in step.controls:
            told = process_text(control)
            ccp += control.ccp
            span = control.time or control.within
            found.append(
                {
                    "head_text": told.head,
                    "time_text": "time not stated" if span is None else span_text(span),
                    "zone": told.zone,
                    "ccp": ccp if control.ccp else 0,
                }
            )
    return found


def _credits(facts: Facts, ref: Ref) -> list[dict[str, Any]]:
    credits = credits_of(facts, ref)
    rows = [
        {
            "name_text": _component(row.component),
            "exact_text": exact_credit_text(row.least, row.component),
            "credited_text": credit_text(row.credited_least, row.component) if row.credited_least else "nothing",
        }
        for row in credits.rows
    ]
    rows += [
        {"name_text": _component(component), "exact_text": "not known", "credited_text": "not known"}
        for component in credits.unknown
    ]
    return rows


def _component(component: Component) -> str:
    if component.name != VEGETABLE or component.subgroup not in (None, ADDITIONAL):
        return component.title
    return "vegetables, all" if component.subgroup is None else "vegetables, additional"


def _allergens(facts: Facts, ref: Ref) -> list[dict[str, Any]]:
    allergens = allergens_of(facts, ref)
    rows = [
        {"name_text": name, "verb_text": verb, "roads_text": _roads(roads)}
        for verb, found in (("contains", allergens.contains), ("may contain", allergens.may_contain))
        for name, roads in found
    ]
    if allergens.unknown:
        rows.append({"name_text": "not known", "verb_text": "no statement", "roads_text": _roads(allergens.unknown)})
    return rows


def _roads(roads: tuple[Road, ...]) -> str:
    return "; ".join(ROAD.join(road) for road in roads)


def _buying(facts: Facts, ref: Ref, columns: tuple[Column, ...]) -> list[dict[str, Any]]:
    """What is bought for each batch where it is not what goes in: the marketing guide."""
    found: list[dict[str, Any]] = []
    for measured in lines_of(facts, ref):
        item = as_bought(facts, measured)
        if item is None or measured.line.alternative:
            continue
        weights = [
            "not known" if item.grams is None else mass_text(item.grams * column.batch.factor) for column in columns
        ]
        found.append(
            {
                "name_text": item.name,
                "for_text": measured.line.name,
                "share_text": f"{decimal_text(item.share * 100, 1)}%",
                "weights": weights,
            }
        )
    return found


def _on_file(facts: Facts, measured: Measured) -> dict[str, Any]:
    name = f"or {measured.line.name}" if measured.line.alternative else measured.line.name
    if measured.ref is None:
        return {"name_text": name, "credit_text": "not known", "label_text": "not known"}
    if not measured.is_food:
        number = recipe_of(facts, measured.ref).number
        return {
            "name_text": name,
            "credit_text": f"recipe {number}" if number else "its own recipe",
            "label_text": "see there",
        }
    standing = standing_of(facts, measured.ref)
    label = {
        DEFAULT: "pantry default: read the package",
        ITSELF: "needs no label",
        READ: day_text(standing.read) if standing.read else "",
    }.get(standing.kind, "not stated: read the package")
    evidence = food_of(facts, measured.ref).evidence_text
    return {
        "name_text": name,
        "credit_text": evidence or ("built-in pantry" if measured.ref.startswith(PANTRY) else "none"),
        "label_text": label,
    }


def _cost(facts: Facts, ref: Ref) -> str:
    cost = cost_of(facts, ref)
    if cost.portion.known is None:
        return "not known"
    whole, _, cents = decimal_text(cost.portion.known, 2).partition(".")
    shown = f"${whole}.{cents.ljust(2, '0')} a portion"
    lacks = shortlist(dict.fromkeys(gap.name for gap in cost.batch.missing))
    return f"at least {shown}, without {lacks}" if lacks else shown


def _tested(recipe: Recipe) -> str:
    if recipe.tested is None:
        return "not stated"
    day, portions = recipe.tested
    return day_text(day) + (f", {number_text(portions)} portions" if portions else "")
