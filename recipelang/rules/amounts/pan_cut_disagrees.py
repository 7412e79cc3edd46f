"""The pans are cut into another number of pieces than the recipe makes.

Why
    Forty squares for fifty children leave ten without, or every square is cut again and credits less than was claimed.
Source
    7 CFR 210.2, standardized recipe: the same number of portions every time
Breaks
    food rolled oats
    recipe oat squares
        makes 50 portions of 2 oz
        pans 1 sheet pan 18 x 26 in, cut 5 x 8
        //                               ^^^^^ pan-cut-disagrees: "40 pieces" "50 portions"
        ingredients
            6 lb 4 oz rolled oats
Fixed
    food rolled oats
    recipe oat squares
        makes 50 portions of 2 oz
        pans 1 sheet pan 18 x 26 in, cut 5 x 10
        ingredients
            6 lb 4 oz rolled oats
Leaves alone
    food rolled oats
    recipe oat squares
        makes 100 portions of 2 each
        pans 4 sheet pans 18 x 26 in, cut 5 x 10
        ingredients
            12 lb 8 oz rolled oats
        steps
            - Press [rolled oats] into the pans and cut into 1 x 2 inch fingers.
    recipe oat bars
        makes 50 portions of 2 oz
        pans 2 sheet pans 18 x 26 in, cut 5 x 10
        ingredients
            6 lb 4 oz rolled oats
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.dishing import Cut, cuts_in
from recipelang.facts.recipe.sizes import pans_of
from recipelang.findings.finding import WARNING, Figure, Finding, Fix, Place
from recipelang.findings.wording import counted
from recipelang.model.recipe import Recipe
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
from recipelang.units.fraction import ONE, Fraction
from recipelang.units.numbers import number_text
from recipelang.units.table import EACH


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    wanted = _wanted(recipe)
    if wanted is None:
        return
    told: set[int] = set()
    for text, start in _texts(subject):
        for cut in cuts_in(text):
            if cut.pieces not in told and not _is_right(recipe, cut, wanted):
                told.add(cut.pieces)
                yield _finding(subject, cut, Place(subject.home, start + cut.start, start + cut.end), wanted)


def _texts(subject: Subject) -> Iterator[tuple[str, int]]:
    """What the `pans` line and the steps say, each with where it stands in the declaration."""
    for line in subject.body.lines:
        if isinstance(line, tree.Field) and line.name == "pans":
            yield line.value.text, line.value.start
    for step in subject.recipe.steps:
        if step.home == subject.home and not step.references:  # what names a food cuts that food
            yield step.text.text, step.text.start
        elif step.home == subject.home:
            text = step.text.text
            sentences = text.rfind(". ") + 1  # `Spread [batter]. Cut 5 x 10.`
            if sentences > max(one.end for one in step.references) - step.text.start:
                yield text[sentences:], step.text.start + sentences


def _wanted(recipe: Recipe) -> Fraction | None:
    """How many pieces the portions are, where each portion is one amount."""
    if not recipe.portions or len(recipe.portion) > 1:
        return None
    quantity = recipe.portion[0].quantity if recipe.portion else None
    return recipe.portions * (quantity.value if quantity is not None and quantity.unit.name == EACH.name else ONE)


def _is_right(recipe: Recipe, cut: Cut, wanted: Fraction) -> bool:
    """Whether whole pans give the pieces that are wanted, or the same number of smaller ones to every portion."""
    pans = pans_of(recipe)
    if pans is None:
        return (wanted / cut.pieces).denominator == 1
    return (pans * cut.pieces / wanted).denominator == 1


def _finding(subject: Subject, cut: Cut, where: Place, wanted: Fraction) -> Finding:
    recipe = subject.recipe
    pans = pans_of(recipe)
    each = f"cut {cut.across} x {cut.along}" if cut.is_grid else f"cut into {cut.across}"
    pieces = (pans or ONE) * cut.pieces
    named = (
        "a pan" if pans is None else counted(int(pans), "pan") if pans.denominator == 1 else f"{number_text(pans)} pans"
    )
    makes = f"{number_text(recipe.portions or ONE)} portions"
    if wanted != recipe.portions:
        makes += f" of {number_text(wanted / (recipe.portions or ONE))} each"
    better = _better(cut, wanted / (pans or max(ONE, Fraction(round(wanted / cut.pieces)))))
    ways = [f"cut {better}"] if better else []
    fixes: tuple[Fix, ...] = ()
    if better and cut.is_grid:
        fixes = (subject.fix(f"cut {better}", where, better, changes_food=True),)
    ways.append(
        f"make {number_text(pieces)} portions" if pans is not None else "say in a `pans` line how many pans there are"
    )
    return subject.finding(
        where,
        f"{named} {each} {'are' if pans is not None and pans > 1 else 'is'} {number_text(pieces)} pieces, but the recipe makes "
        f"{makes}.",
        figures=(
            Figure("needed", "makes", makes),
            Figure("found", "pieces", number_text(pieces), f"{named}, {each}"),
        ),
        source="7 CFR 210.2, standardized recipe",
        help=", or ".join(ways),
        fixes=fixes,
    )


def _better(cut: Cut, pieces: Fraction) -> str:
    """A cut into so many pieces that keeps one of the sides, or the shape; empty where a pan can't be cut so."""
    if pieces.denominator != 1 or not cut.is_grid:
        return ""
    number = int(pieces)
    pairs = [(one, number // one) for one in range(1, number + 1) if number % one == 0] if number <= 1_000 else []
    if not pairs:
        return ""
    across, along = min(
        pairs,
        key=lambda pair: (
            cut.across != pair[0] and cut.along != pair[1],
            abs(pair[0] * cut.along - pair[1] * cut.across),
        ),
    )
    return f"{across} x {along}" if max(across, along) <= 6 * min(across, along) else ""
