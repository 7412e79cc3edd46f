"""The scoop, ladle or spoon that serves a dish holds another amount than a portion is.

Why
    Who serves goes by the tool in the pan. A #8 scoop is half a cup: a portion of 3/4 cup is a third short, and so is what
    it credits.
Source
    common practice, no source: a scoop's number is how many of it fill a quart, a ladle's or spoon's the fluid ounces that
    it holds
Breaks
    food steamed rice
    recipe rice bowl
        makes 50 portions of 3/4 cup
        serve with #8 scoop
        //         ^^^^^^^^ tool-disagrees: "1/2 cup" "3/4 cup"
        ingredients
            2 gal 1 qt 1.5 cup steamed rice
Fixed
    food steamed rice
    recipe rice bowl
        makes 50 portions of 3/4 cup
        serve with 6 oz portion spoon
        ingredients
            2 gal 1 qt 1.5 cup steamed rice
Leaves alone
    food steamed rice
    recipe rice side
        makes 50 portions of 1/2 cup
        serve with 2 #16 scoops
        ingredients
            25 cup steamed rice
    recipe rice bowl
        makes 50 portions of 1 cup
        ingredients
            50 cup steamed rice
        steps
            - Serve [steamed rice] with a #30 scoop of relish.
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.dishing import Tool, tool_in_prose, tool_of
from recipelang.findings.finding import WARNING, Figure, Finding, Fix, Place
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text
from recipelang.units.table import VOLUME, scoop

SOURCE = "a scoop's number is how many fill a quart; ladles and spoons say the fluid ounces that they hold"
SCOOPS = (6, 8, 10, 12, 16, 20, 24, 30, 40, 60)
SPOONS = (1, 2, 3, 4, 6, 8)
"""The sizes that kitchens have (common practice, no source)."""


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.portions or len(recipe.portion) != 1:
        return
    quantity = recipe.portion[0].quantity
    portion = quantity.base if quantity.unit.dimension == VOLUME else subject.yields.stated_volume
    if not portion:
        return
    tolerance = dict(subject.facts.settings.tolerances)["yield"]
    for tool, start in _tools(subject):
        holds = tool.times * tool.holds.base
        if abs(holds - portion) > tolerance * portion:
            where = Place(subject.home, start + tool.start, start + tool.end)
            yield _finding(subject, tool, where, portion)
            return


def _tools(subject: Subject) -> Iterator[tuple[Tool, int]]:
    """The tools that the `serve with` line and the steps name, each with where its text stands."""
    for line in subject.body.lines:
        if isinstance(line, tree.Field) and line.name == "serve with":
            tool = tool_of(line.value.text)
            if tool is not None:
                yield tool, line.value.start
    for step in subject.recipe.steps:
        if step.home == subject.home and len(step.references) in (0, len(subject.recipe.lines)):
            tool = tool_in_prose(step.text.text)
            if tool is not None:
                yield tool, step.text.start


def _finding(subject: Subject, tool: Tool, where: Place, portion: Fraction) -> Finding:
    holds = tool.times * tool.holds.base
    named = (
        f"{tool.times} {tool.holds.unit.named(Fraction(tool.times))}" if tool.times > 1 else f"a {tool.holds.unit.name}"
    )
    size = quantity_text(subject.recipe.portion[0].quantity)
    if subject.recipe.portion[0].quantity.unit.dimension != VOLUME:
        size += f", {_cups(portion)}"
    better = _better(tool, portion)
    ways = [f"serve with {better}"] if better else []
    fixes: tuple[Fix, ...] = ()
    if better:
        fixes = (subject.fix(f"serve with {better}", where, better, changes_food=True),)
    ways.append(f"make portions of {_cups(holds)}")
    return subject.finding(
        where,
        f"{named} {'hold' if tool.times > 1 else 'holds'} {_cups(holds)}, but a portion is {size}.",
        figures=(Figure("needed", "portion", size), Figure("found", "tool", _cups(holds), named)),
        source=SOURCE,
        help=", or ".join(ways),
        fixes=fixes,
    )


def _cups(value: Fraction) -> str:
    return f"{number_text(value)} {'cup' if value <= 1 else 'cups'}"


def _better(tool: Tool, portion: Fraction) -> str:
    """The tool that holds a portion, of the same kind where one does; else two, three or four of the one named."""
    unit = tool.holds.unit.name
    kind = "ladle" if unit.endswith("ladle") else "portion spoon"
    number = 4 / portion
    if "scoop" in unit and number.denominator == 1 and int(number) in SCOOPS:
        return scoop(number).name
    times = portion / tool.holds.base
    if times.denominator == 1 and 1 < times <= 4:
        return f"{times} {tool.holds.unit.named(times)}"
    ounces = portion * 8
    return f"{ounces} oz {kind}" if ounces.denominator == 1 and int(ounces) in SPOONS else ""
