"""A recipe's card: the bench side, which hangs on a wall, as plain data.

Fields that end in `_text` are printed as they are; everything else is a number, a flag, a list or a mapping of these. No
record and no method reaches a printer.
"""

from __future__ import annotations

from typing import Any, Final

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import meaning_of
from recipelang.facts.food.labels import DEFAULT, UNDATED
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.batch import Yield, yield_of
from recipelang.facts.recipe.container_fill import Fill, fill_of
from recipelang.facts.recipe.credits import credits_of
from recipelang.facts.recipe.derivation import credit_text
from recipelang.facts.recipe.label_sources import label_sources_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.components import ADDITIONAL, GRAIN
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.papers.card_steps import Column, columns_of, marks_of, steps_of, unnamed_of
from recipelang.papers.desk import desk_of
from recipelang.papers.recipe_data import recipe_data
from recipelang.rules.errors import Inherited, allowed_findings, open_errors
from recipelang.text.sentence import capital
from recipelang.units.amount import Quantity, fluid_ounces_text, mass_text, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.measuring import kitchen_quantity_text
from recipelang.units.numbers import decimal_text
from recipelang.units.table import CUP, MASS, VOLUME

PROCESSES: Final = {
    "no cook": "Process 1 · no cook",
    "same day": "Process 2 · cook, serve the same day",
    "complex": "Process 3 · complex: cook, cool, reheat",
}
"""The processes of the HACCP-based food safety program by their numbers (USDA, Guidance for School Food Authorities, 2005)."""


class CardOptions:
    """What a card is asked for: batch sizes, stamp, and whose library it is."""

    def __init__(self, portions: tuple[Fraction, ...] = (), library: str = "", stamp: str = "", day: str = "") -> None:
        self.portions = portions
        self.library = library
        self.stamp = stamp
        self.day = day


def card_of(facts: Facts, ref: Ref, options: CardOptions) -> dict[str, Any]:
    """Both sides of a recipe's card."""
    recipe = recipe_of(facts, ref)
    columns = columns_of(facts, ref, options.portions)
    declared = meaning_of(facts, ref)
    assert declared is not None
    steps = steps_of(facts, ref, columns)
    card: dict[str, Any] = {
        "title_text": capital(recipe.name),
        "name_text": recipe.name,
        "number_text": recipe.number,
        "course_text": capital(recipe.course),
        "process_text": PROCESSES.get(recipe.process[0], recipe.process[0]) if recipe.process else "Process not stated",
        "audience_text": recipe.audience,
        "based_on_text": recipe.base[0] if recipe.base else "",
        **_banner(facts, ref),
        "fact_strip": _fact_strip(facts, ref, recipe, columns),
        **_allergens(facts, ref),
        "batches": [column.heading for column in columns],
        "steps": steps,
        "unnamed": unnamed_of(facts, ref, columns),
        "containers": _containers(fill_of(facts, ref)),
        "leftovers_text": _leftovers(recipe),
        "batch_text": _batch(yield_of(facts, ref), recipe, columns),
        "marks": marks_of(columns),
        "source_text": " · ".join(filter(None, (options.library, declared.home.path, options.stamp, options.day))),
        "desk": desk_of(facts, ref, columns),
    }
    card["recipe_data"] = recipe_data(facts, ref, card)
    return card


def _banner(facts: Facts, ref: Ref) -> dict[str, Any]:
    """What is wrong with anything that the card rests on, and what somebody has allowed."""
    own = meaning_of(facts, ref)

    def where(one: Inherited) -> str:
        return "" if own is not None and one.name == own.name else one.name

    return {
        "errors": [
            {"where_text": where(one), "message_text": one.finding.message, "fix_text": one.finding.help}
            for one in open_errors(facts, ref)
        ],
        "allowed": [
            f"{where(one)}: {one.finding.message}" if where(one) else one.finding.message
            for one in allowed_findings(facts, ref)
        ],
    }


def _fact_strip(facts: Facts, ref: Ref, recipe: Recipe, columns: tuple[Column, ...]) -> list[dict[str, Any]]:
    strip = [_fact("Makes", [" · ".join(column.heading for column in columns) or "not stated"], "portions")]
    result = yield_of(facts, ref)
    stated = " and ".join(
        f"{quantity_text(part.quantity)}{' ' + part.name if part.name else ''}" for part in recipe.portion
    )
    mass = result.portion_mass
    by_weight = len(recipe.portion) == 1 and recipe.portion[0].quantity.dimension == MASS
    weight = "" if mass is None else f"{'' if by_weight else mass_text(mass) + ' · '}{decimal_text(mass, 0)} g"
    strip.append(_fact("Portion", [stated or "not stated"], weight))
    inserts = dict.fromkeys(line.side_container[0] for line in recipe.lines if line.side_container)
    if recipe.container is not None:
        strip.append(_fact("In", [recipe.container[0]], " ".join(f"+ {name}" for name in inserts)))
    if recipe.pans:
        strip.append(_fact("Pans", [recipe.pans], ""))
    if recipe.serve_with:
        strip.append(_fact("Serve with", [recipe.serve_with], ""))
    strip.append(_fact("Counts as", _counts_as(facts, ref), ""))
    keeps = [f"{quantity_text(one.time)} {one.place}" for one in recipe.keeps]
    if keeps:
        strip.append(_fact("Keeps", keeps, ""))
    return strip


def _fact(label: str, values: list[str], note: str) -> dict[str, Any]:
    return {"label_text": label, "values": values, "note_text": note}


def _counts_as(facts: Facts, ref: Ref) -> list[str]:
    credits = credits_of(facts, ref)
    found: list[str] = []
    subgroups = [row for row in credits.rows if row.component.subgroup not in (None, ADDITIONAL) and row.credited_least]
    for row in credits.rows:
        if not row.credited_least or (
            row.component.name == "vegetable" and row.component.subgroup is None and subgroups
        ):
            continue
        rich = ", whole grain-rich" if row.component.name == GRAIN and credits.whole_grain_rich else ""
        found.append(f"{credit_text(row.credited_least, row.component)} {row.component.title}{rich}")
    found += [f"{component.title}: not known" for component in credits.unknown]
    return found or ["nothing"]


def _allergens(facts: Facts, ref: Ref) -> dict[str, Any]:
    allergens = allergens_of(facts, ref)
    sources = label_sources_of(facts, ref)
    kinds = dict(allergens.kinds)
    contains = [f"{name} ({', '.join(kinds[name])})" if kinds.get(name) else name for name, _ in allergens.contains]
    return {
        "contains": contains,
        "contains_names": [name for name, _ in allergens.contains],
        "may_contain": [name for name, _ in allergens.may_contain if name not in dict(allergens.contains)],
        "unknown": list(dict.fromkeys(road[-1] for road in allergens.unknown)),
        "defaults": list(sources.names(DEFAULT)),
        "undated": list(sources.names(UNDATED)),
    }


def _containers(fill: Fill) -> list[dict[str, Any]]:
    """The containers of a portion that anything is known of, in fluid ounces."""
    found: list[dict[str, Any]] = []
    for one in fill.containers:
        if one.holds is None or one.filled.known is None:
            continue
        room = one.room if one.room is not None else one.holds
        found.append(
            {
                "name_text": one.name,
                "holds_fl_oz": float(one.holds * 8),
                "room_fl_oz": float(room * 8),
                "room_text": fluid_ounces_text(room),
                "filled_fl_oz": float(one.filled.known * 8),
                "filled_text": fluid_ounces_text(one.filled.known),
                "at_least": bool(one.filled.missing),
                "over": one.room is not None and one.filled.known > one.room,
                "first_layer": sum(len(before["layers"]) for before in found),
                "layers": [_layer(name, cups) for name, cups in one.parts] or [_layer("the dish", one.filled.known)],
            }
        )
    return found


def _layer(name: str, cups: Fraction) -> dict[str, Any]:
    shown = fluid_ounces_text(cups) if cups * 8 >= Fraction(1, 20) else "under 0.1 fl oz"
    return {"name_text": name, "fl_oz": float(cups * 8), "text": shown}


def _leftovers(recipe: Recipe) -> str:
    if recipe.leftovers is None or not recipe.leftovers.keeps:
        return ""
    return "keep " + ", ".join(f"{quantity_text(one.time)} {one.place}" for one in recipe.leftovers.keeps)


def _batch(result: Yield, recipe: Recipe, columns: tuple[Column, ...]) -> str:
    """The weight of each batch, and its volume where somebody measured it or where a portion is a volume."""
    by_volume = any(part.quantity.dimension == VOLUME for part in recipe.portion)
    told: list[str] = []
    for column in columns:
        mass, volume = result.mass.complete, result.volume.complete
        parts = [] if mass is None else [mass_text(mass * column.batch.factor)]
        if volume is not None and (by_volume or not result.volume_is_summed):
            parts.append(kitchen_quantity_text(Quantity(volume * column.batch.factor, CUP)))
        if parts:
            told.append(f"{column.portions_text} = {', '.join(parts)}")
    return "; ".join(told)
