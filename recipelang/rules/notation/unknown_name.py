"""A name that nothing in the library or the pantry has.

Why
    What a recipe is made of decides its credits, allergens, nutrients and cost. A misspelled name takes all of them away.
Source
    the notation
Breaks
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup slicd peaches
            //    ^^^^^^^^^^^^^ unknown-name: "slicd peaches"
Fixed
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.evaluate.names import is_food, resolve
from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.model.recipe import Line
from recipelang.rules.amounts._counted import counts_a_food
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.numbers import number_text
from recipelang.units.table import WORD


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind in ("recipe", "variation"):
        yield from _recipe(subject)
    elif subject.kind == "food":
        yield from _food(subject)
    elif subject.kind == "container":
        for fit in subject.container.fits:
            yield from _named(subject, fit.name, Place(subject.home, fit.start, fit.end), "food or recipe")
    elif subject.kind == "menu":
        yield from _menu(subject)


def _per_portion(subject: Subject, line: Line) -> Finding | None:
    """`2 tbsp per portion salsa`: the amount for the batch, where the food is known."""
    match = _PER_PORTION.match(line.name)
    portions = subject.recipe.portions
    if match is None or portions is None or len(line.sides) != 1:
        return None
    name = line.name[match.end() :]
    if resolve(subject.facts, fold(name), within=subject.ref) is None:
        return None
    quantity = line.sides[0].quantity
    text = f"{quantity_text(Quantity(quantity.value * portions, quantity.unit))} {name}"
    place = Place(line.name_spot.home, line.sides[0].spot.start, line.name_spot.end)
    return subject.finding(
        line.name_spot,
        "The amounts of this list are for the batch, not for a portion.",
        help=f"write `{text}`: {quantity_text(quantity)} for each of {number_text(portions)} portions",
        fixes=(Fix(f"write `{text}`", (Edit(place, text),), changes_food=True),),
    )


def _recipe(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    for measured in subject.lines:
        told = _per_portion(subject, measured.line) if measured.ref is None else None
        if told is not None:
            yield told
            continue
        if measured.ref is None and resolve(subject.facts, measured.line.key, within=subject.ref) is None:
            if any(
                side.quantity.dimension == WORD and counts_a_food(subject, measured.line, side)
                for side in measured.line.sides
            ):
                continue  # `2 ham sandwiches`: the unit is the slip, and the name is known
            yield _finding(subject, measured.line.name, measured.line.name_spot, "food or recipe")
    if recipe.container is not None:
        yield from _named(subject, *recipe.container, "container", "container:")
    for line in recipe.lines:
        if line.side_container is not None:
            yield from _named(subject, *line.side_container, "container", "container:")
    for part in recipe.portion:
        if part.name:
            spot = Place(part.spot.home, part.spot.end + 1, part.spot.end + 1 + len(part.name))
            own = {line.key for line in recipe.lines} | {line.called for line in recipe.lines}
            if fold(part.name) not in own:
                yield from _named(subject, part.name, spot, "food or recipe")
    if recipe.base is not None:
        name, spot = recipe.base
        target = resolve(subject.facts, fold(name), within=subject.ref)
        if target is None:
            yield _finding(subject, name, spot, "recipe")
        elif is_food(subject.facts, target):
            yield subject.finding(
                spot, f"`{name}` is a food; a variation is based on a recipe.", help="name the recipe that it varies"
            )


def _food(subject: Subject) -> Iterator[Finding]:
    parent = subject.food.parent
    if parent is not None:
        yield from _named(subject, parent.name, Place(subject.home, parent.start, parent.end), "food")


def _menu(subject: Subject) -> Iterator[Finding]:
    for day in subject.body.lines:
        if not isinstance(day, tree.Day):
            continue
        for line in day.lines:
            served = line.lines if isinstance(line, tree.Choose) else (line,)
            for one in served:
                words = [size.name for size in one.sizes] if isinstance(one, tree.Serve) else [one.name]
                for word in words:
                    if word is not None:
                        spot = Place(subject.home, word.start, word.end)
                        yield from _without_its_comma(subject, word.text, spot)


def _without_its_comma(subject: Subject, name: str, spot: Place) -> Iterator[Finding]:
    """A name that is served; `ham 240` for `ham, 240` gets the comma."""
    for found in _named(subject, name, spot, "food or recipe"):
        head, _, count = name.rpartition(" ")
        if count.isdecimal() and resolve(subject.facts, fold(head), within=subject.ref) is not None:
            better = f"{head}, {count}"
            yield subject.finding(
                spot, found.message, help=f"write a comma before the count: `{better}`",
                fixes=(subject.fix(f"write `{better}`", spot, better),),
            )  # fmt: skip
            continue
        behind = _AMOUNT_BEHIND.search(name)
        if behind is not None and resolve(subject.facts, fold(name[: behind.start()]), within=subject.ref) is not None:
            better = f"{behind['amount']} {name[: behind.start()]}"
            yield subject.finding(
                spot, found.message, help=f"write the amount first: `serve {better}`",
                fixes=(subject.fix(f"write `{better}`", spot, better),),
            )  # fmt: skip
        else:
            yield found


_AMOUNT_BEHIND: Final = re.compile(
    r"[ \t]+(?P<amount>(?:\d+[ \t]+)?(?:\d+/\d+|\d+(?:\.\d+)?)[ \t]*(?:fl oz|oz|cups?|each|lbs?|tbsp|tsp|g))$",
    re.IGNORECASE,
)
"""An amount behind a name, as menus print it."""
_PER_PORTION: Final = re.compile(r"per (?:portion|serving)[ \t]+", re.IGNORECASE)


def _named(subject: Subject, name: str, spot: Place, what: str, space: str = "") -> Iterator[Finding]:
    if resolve(subject.facts, fold(name), space, subject.ref) is None:
        yield _finding(subject, name, spot, what, space)


def _finding(subject: Subject, name: str, spot: Place, what: str, space: str = "") -> Finding:
    # Which names are near is worked out when the finding is shown: stored here, every new name in the library would
    # make findings elsewhere stale.
    kind = "container" if space else "recipe" if what == "recipe" else "food"
    return subject.finding(
        spot,
        f"Nothing in the library or the pantry is called `{name}`.",
        help=f"write the name of a {what}, or add `{kind} {name}` to the library",
    )
