"""Plain `oz` on a food that is poured.

Why
    `oz` is weight, always. On a liquid it nearly always means fluid ounces, and 8 oz of oil is not 8 fl oz: mixing them up
    is the commonest slip of the trade.
Source
    common practice, no source; NIST Handbook 44 keeps the two units apart.
Breaks
    food low-fat milk
        liquid
    recipe milk drink
        makes 10 portions of 8 fl oz
        ingredients
            80 oz low-fat milk
        //  ^^^^^ ounces-for-fluid-ounces: "80 fl oz"
Fixed
    food low-fat milk
        liquid
    recipe milk drink
        makes 10 portions of 8 fl oz
        ingredients
            80 fl oz low-fat milk
Leaves alone
    food low-fat milk
        liquid
        weighs 244 g per cup
    recipe milk drink
        makes 10 portions of 8 fl oz
        ingredients
            80 oz by weight low-fat milk
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import source_of
from recipelang.facts.food.food import food_of
from recipelang.findings.finding import WARNING, Edit, Finding, Fix, Place
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import read_amount
from recipelang.units.table import OUNCE, VOLUME


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    facts = subject.facts
    for measured in subject.lines:
        line = measured.line
        if line.by_weight or measured.ref is None or not measured.is_food:
            continue
        if not food_of(facts, measured.ref).liquid:
            continue
        for cell in line.cells:
            if cell is None or any(side.quantity.dimension == VOLUME for side in cell):
                continue  # weight and measure side by side: the ounces are meant as weight
            for side in cell:
                if side.quantity.unit is not OUNCE:
                    continue
                written = source_of(facts, side.spot.home).text[side.spot.start : side.spot.end]
                if not read_amount(written).bare_ounces:
                    continue
                instead = f"{written[: written.lower().rindex('o')].rstrip()} fl oz"
                end = Place(side.spot.home, side.spot.end, side.spot.end)
                yield subject.finding(
                    side.spot,
                    f"`{written}` of {line.name} is a weight, and what is poured is measured in fluid ounces: is "
                    f"`{instead}` meant?",
                    source="common practice, no source",
                    help=f"write `{instead}`, or `{written} by weight` if the weight is meant",
                    fixes=(
                        subject.fix(f"write `{instead}`", side.spot, instead, changes_food=True),
                        Fix("say that the weight is meant", (Edit(end, " by weight"),)),
                    ),
                )
