"""A column of a recipe card is not in proportion to the recipe.

Why
    A card for 50 and 100 is one recipe. A column that is not its double gives the other half of the kitchens another
    dish: other credits, other nutrients, another cost.
Source
    7 CFR 210.2, standardized recipe; the rounding steps are those taught for standardized recipes. A difference of up to
    one step of the rounding guide is a hint, a larger one a warning.
Breaks
    food sliced peaches
    recipe peach cup
        makes 50 portions of 1/2 cup
        ingredients for 50, 100
            12 lb | 30 lb  sliced peaches
            //      ^^^^^ columns-disagree: "24 lb"
Fixed
    food sliced peaches
    recipe peach cup
        makes 50 portions of 1/2 cup
        ingredients for 50, 100
            12 lb | 24 lb  sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import HINT, WARNING, Figure, Finding, Fix
from recipelang.model.measures import node_of
from recipelang.model.recipe import Line, Side
from recipelang.rules.amounts._alike import alike, as_written
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.fraction import Fraction
from recipelang.units.kitchen import kitchen_rounded, rounding_step
from recipelang.units.numbers import decimal_text, number_text


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    columns = recipe.columns
    if columns and recipe.portions and columns[0][0] != recipe.portions and "makes" not in recipe.broken:
        yield subject.finding(
            columns[0][1],
            f"The first column is for {number_text(columns[0][0])}, but the recipe makes {number_text(recipe.portions)} "
            "portions.",
            help="put the column of the recipe's own number first, or correct `makes`",
            severity=WARNING,
        )
        return
    for line in recipe.lines:
        if len(line.cells) > 1 and len(line.cells) != len(columns) and len(columns) > 1:
            yield subject.finding(
                line.name_spot,
                f"{line.name} has {len(line.cells)} amounts for {len(columns)} columns.",
                help="write `-` for an amount that is not printed",
            )
            continue
        if len(line.cells) < 2 or line.cells[0] is None:
            continue
        for number, cell in enumerate(line.cells[1:], 1):
            if cell is not None and number < len(columns):
                for side in cell:
                    yield from _compare(subject, line, side, columns[number][0], columns[0][0])


def _compare(subject: Subject, line: Line, side: Side, count: Fraction, first_count: Fraction) -> Iterator[Finding]:
    node = node_of(side.quantity.unit)
    first = next((one for one in line.sides if node_of(one.quantity.unit) == node), None)
    if first is None:
        return
    by_unit = node == side.quantity.unit.name
    have = side.quantity.value if by_unit else side.quantity.base
    base = first.quantity.value if by_unit else first.quantity.base
    expected = base * count / first_count
    if have == expected:
        return
    step = rounding_step(side.quantity)
    within = step is not None and abs(have - expected) <= step
    written, first_written = as_written(subject.facts, side), as_written(subject.facts, first)
    shown = alike(written, expected, side)
    off = f"{_percent(have, expected)}% {'more' if have > expected else 'less'}"
    message = (
        f"The column for {number_text(count)} has {written} of {line.name}, {off} than {first_written} for "
        f"{number_text(first_count)} gives"
    )
    source = "7 CFR 210.2, standardized recipe; rounding guide taught for standardized recipes"
    if within:
        yield subject.finding(
            side.spot,
            f"{message}, which is within kitchen rounding.",
            figures=(Figure("found", "written", written, off),),
            source=source,
            help="leave it, if it was rounded on purpose",
            severity=HINT,
        )
        return
    fixes: tuple[Fix, ...] = ()
    if side.spot.home == subject.home:
        fixes = (subject.fix(f"write {shown}", side.spot, shown, changes_food=True),)
    yield subject.finding(
        side.spot,
        f"{message}; in proportion it is {shown}.",
        figures=(
            Figure("found", "written", written, off),
            Figure("needed", "expected", shown, "rounded as kitchens round" if _is_rounded(expected, node) else ""),
        ),
        source=source,
        help=f"write {shown}",
        fixes=fixes,
    )


def _is_rounded(expected: Fraction, node: str) -> bool:
    return kitchen_rounded(expected, node) != expected


def _percent(have: Fraction, expected: Fraction) -> str:
    """How far an amount is off, to a whole percent, or finer where that would be nothing."""
    percent = abs(have - expected) / expected * 100
    return decimal_text(percent, 0 if percent >= 10 else 1 if percent >= Fraction(1, 10) else 3)
