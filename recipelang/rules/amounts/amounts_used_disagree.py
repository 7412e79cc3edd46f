"""The steps use more, or less, of an ingredient than the list holds.

Why
    The kitchen weighs out the list and then follows the steps: what is missing has to be found during service, and what
    is left over was bought for nothing, or should have been in the dish.
Source
    7 CFR 210.2, standardized recipe: the same ingredients for measurement and preparation.
Breaks
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 2 oz
        ingredients
            6 lb 4 oz whipped ricotta
        steps
            - Pipe [3 oz whipped ricotta per portion] into cups.
            //      ^^^^ amounts-used-disagree: "9 lb 6 oz"
Fixed
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 2 oz
        ingredients
            6 lb 4 oz whipped ricotta
        steps
            - Pipe [2 oz whipped ricotta per portion] into cups.
Leaves alone
    food whipped ricotta
    recipe ricotta cup
        makes 50 portions of 2 oz
        ingredients
            6 lb 4 oz whipped ricotta
        steps
            - Whip [1 lb whipped ricotta] until soft.
            - Pipe the [rest of whipped ricotta] into cups.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set

from recipelang.facts.recipe.measured import Measured
from recipelang.findings.finding import WARNING, Figure, Finding, Fix, Place
from recipelang.model.measures import node_of
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.amount import Quantity, base_text, quantity_text, read_amount
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import number_text
from recipelang.units.table import MASS, VOLUME, WORD


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    used: dict[str, list[tuple[Place, tree.Reference, Quantity]]] = {}
    open_ended: set[str] = set()
    for step in recipe.steps:
        for reference in step.references:
            key = fold(reference.name.text)
            if reference.amount is None:
                open_ended.add(key)  # all of it, or the rest of it, or named again in a later step
                continue
            reading = read_amount(reference.amount.text)
            if reading.quantity is None:
                open_ended.add(key)
                continue
            spot = Place(step.home, reference.amount.start, reference.amount.end)
            used.setdefault(key, []).append((spot, reference, reading.quantity))
    for members in _together(subject.lines, used.keys() | open_ended):
        names = dict.fromkeys(name for one in members for name in (one.line.key, one.line.called) if name)
        parts = [part for name in names for part in used.get(name, ())]
        if parts:
            finding = _compare(subject, members, parts, not open_ended.isdisjoint(names))
            if finding is not None:
                yield finding


def _together(lines: Sequence[Measured], named: Set[str]) -> Iterator[list[Measured]]:
    """The lines that a name in a step speaks of: an ingredient that is listed twice is used up together, unless the
    steps tell its lines apart by what they are called."""
    groups: dict[str, list[Measured]] = {}
    for measured in lines:
        line = measured.line
        if not line.alternative and not line.to_taste:
            groups.setdefault(
                line.key if line.key in named or not line.called else f"{line.key}|{line.called}", []
            ).append(measured)
    yield from groups.values()


def _compare(
    subject: Subject, members: list[Measured], parts: list[tuple[Place, tree.Reference, Quantity]], more: bool
) -> Finding | None:
    measured = members[0]
    portions = subject.recipe.portions
    node = node_of(parts[0][2].unit)
    total = ZERO
    for _, reference, quantity in parts:
        value = _in_node(measured, quantity, node)
        if value is None or (reference.share == "portion" and not portions):
            return None
        total += value * portions if reference.share == "portion" and portions else value
    bases = [one.base(node) for one in members]
    if None in bases:
        return None
    have = sum((base for base in bases if base is not None), ZERO)
    tolerance = dict(subject.facts.settings.tolerances)["weight-measure"]
    written = any(node_of(side.unit) == node for side in measured.sides)
    if not written:
        tolerance = max(tolerance, measured.measures.tolerance(VOLUME) or ZERO)
    allowed = have * tolerance
    if total - have <= allowed and (more or have - total <= allowed):
        return None
    name = measured.line.name
    spot, _, quantity = parts[-1]
    shown_used = _shown(total, node, quantity)
    shown_have = _shown(have, node, quantity)
    return subject.finding(
        spot,
        f"The steps use {shown_used} of {name}, but the ingredients hold {shown_have}.",
        figures=(Figure("found", "steps", shown_used), Figure("needed", "list", shown_have)),
        source="7 CFR 210.2, standardized recipe",
        help="correct the amount in the step or in the ingredients"
        + ("" if total > have else f", or use the `[rest of {name}]` in a step"),
        fixes=_in_the_step(subject, parts, have, node),
    )


def _in_the_step(
    subject: Subject, parts: list[tuple[Place, tree.Reference, Quantity]], have: Fraction, node: str
) -> tuple[Fix, ...]:
    """What the ingredients hold, in the one step that uses it."""
    spot, reference, quantity = parts[0]
    portions = subject.recipe.portions
    if len(parts) > 1 or spot.home != subject.home or (reference.share == "portion" and not portions):
        return ()
    text = _shown(have / portions if reference.share == "portion" and portions else have, node, quantity)
    return (subject.fix(f"write `{text}` in the step", spot, text, changes_food=True),)


def _shown(value: Fraction, node: str, quantity: Quantity) -> str:
    if node == MASS:
        return base_text(value, node)
    if node == VOLUME:  # both in the measure that the step takes
        number = value / quantity.unit.factor
        return f"{number_text(number)} {quantity.unit.named(number)}"
    return quantity_text(Quantity(value, quantity.unit))


def _in_node(measured: Measured, quantity: Quantity, node: str) -> Fraction | None:
    if quantity.dimension == WORD and not measured.measures.knows(quantity.unit.name):
        return None
    return measured.measures.convert(quantity, node)
