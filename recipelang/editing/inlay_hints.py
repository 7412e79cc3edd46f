"""Figures beside what is written: the weight and the credits of each ingredient, and how full a container is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.editing.amount_cards import ingredient_card
from recipelang.editing.cards import Card, in_brief
from recipelang.editing.cursor import cursor_at
from recipelang.editing.hover import measured_at
from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_recipe
from recipelang.facts.food.as_purchased import item_of
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.container_fill import Filled, fill_of
from recipelang.facts.recipe.credits import all_contributions, credits_of
from recipelang.facts.recipe.derivation import exact_credit_text
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import DeclarationId
from recipelang.model.components import Component
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.amount import fluid_ounces_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import decimal_text
from recipelang.workspace.source_file import home_of
from recipelang.workspace.workspace import Workspace

_METRIC: Final = frozenset({"g", "kg"})


class Hint(Record):
    """A figure, and the offset in the file behind which it stands."""

    at: int
    label: str
    is_ingredient: bool


def hints_in(workspace: Workspace, path: str, start: int, end: int) -> list[Hint]:
    """The figures of a stretch of a file, in order of place."""
    found: list[Hint] = []
    for one in workspace.files[path].declarations:
        if one.start > end or one.start + len(one.text) < start or one.kind not in ("recipe", "variation"):
            continue
        home = home_of(path, one)
        ref = workspace.ref_at(home)
        if ref is not None and workspace.is_meant(home, ref) and is_recipe(workspace.facts, ref):
            every = (*_ingredients(workspace.facts, ref, home), *_containers(workspace.facts, ref, home))
            found += [hint._replace(at=hint.at + one.start) for hint in every]
    return sorted(hint for hint in found if start <= hint.at <= end)


def _ingredients(facts: Facts, ref: Ref, home: DeclarationId) -> Iterator[Hint]:
    """For each ingredient line of a declaration its weight in the batch, and what a portion is credited for it."""
    recipe = recipe_of(facts, ref)
    lines = lines_of(facts, ref)
    if not any(measured.line.spot.home == home for measured in lines):
        return
    parts: dict[int, dict[Component, Fraction]] = {}
    for part in all_contributions(facts, ref):
        sums = parts.setdefault(part.at, {})
        sums[part.component] = sums.get(part.component, ZERO) + part.amount
    credits = credits_of(facts, ref)
    unknown = {line.at for line in credits.gap_lines}
    for at, measured in enumerate(lines):
        spot = measured.line.spot
        if spot.home != home or measured.line.to_taste:
            continue
        made = [
            f"{exact_credit_text(amount / recipe.portions, component)} {component.title} a portion"
            for component, amount in parts.get(at, {}).items()
            if recipe.portions and amount
        ]
        if is_unstated(facts, measured):
            made.append("credit not stated")
        elif at in unknown:
            made.append("credit unknown")
        label = in_brief([_weight(measured), *made])
        if label:
            yield Hint(spot.end, label, True)


def _weight(measured: Measured) -> str:
    """A line's weight for the batch; empty where it is written so."""
    if any(side.unit.name in _METRIC for side in measured.sides):
        return ""
    grams = measured.grams
    return "weight unknown" if grams is None else f"{decimal_text(grams, 0 if grams >= 10 else 1)} g"


def is_unstated(facts: Facts, measured: Measured) -> bool:
    """Whether nobody says what a line credits: neither its food, nor the item that it is cut from."""
    line, ref = measured.line, measured.ref
    if ref is None or not measured.is_food or line.not_credited or line.optional or line.to_taste:
        return False
    crediting = crediting_of(facts, ref)
    return crediting.says_nothing and item_of(facts, ref) is None


def _containers(facts: Facts, ref: Ref, home: DeclarationId) -> Iterator[Hint]:
    fill = fill_of(facts, ref)
    for filled in fill.containers:
        if filled.spot.home == home:
            yield Hint(filled.spot.end, filled_text(filled), False)


def filled_text(filled: Filled) -> str:
    """How full a container is, of the room below its headspace."""
    known = filled.filled.known
    text = "filling unknown" if known is None else f"filled {fluid_ounces_text(known)}"
    if known is not None and filled.filled.missing:
        text = f"filled at least {fluid_ounces_text(known)}"
    return text if filled.room is None else f"{text} of {fluid_ounces_text(filled.room)} below its headspace"


def hint_card(workspace: Workspace, path: str, at: int) -> Card | None:
    """What an ingredient's figures come from; None where no ingredient ends there any more."""
    cursor = cursor_at(workspace, path, at)
    found = measured_at(cursor, cursor.at)
    if found is None or cursor.ref is None:
        return None
    return ingredient_card(cursor.facts, cursor.ref, found[1], found[0])
