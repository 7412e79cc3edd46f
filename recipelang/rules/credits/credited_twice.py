"""A dish credits both a drained food and the liquid it was drained from.

Why
    A can's fruit figure often includes its juice. Counting the fruit with its liquid and the liquid again as juice
    counts the same fruit twice.
Source
    USDA's crediting guidance: canned fruit credits as fruit, or as fruit with its juice, never both.
Breaks
    food canned peaches
        packed in juice
        credits 11.75 cup fruit per #10 can, with its liquid
        evidence yield table
    food peach juice
        left from canned peaches, 34% by weight
        juice
        credits 1 cup fruit per 1 cup
        evidence regulation
    recipe peach cup
        makes 20 portions of 3/4 cup
        ingredients
            1 #10 can canned peaches
            3 cup peach juice
            //    ^^^^^^^^^^^ credited-twice: "canned peaches"
Fixed
    food canned peaches
        packed in juice
        credits 9 cup fruit per #10 can, drained
        evidence yield table
    food peach juice
        left from canned peaches, 34% by weight
        juice
        credits 1 cup fruit per 1 cup
        evidence regulation
    recipe peach cup
        makes 20 portions of 3/4 cup
        ingredients
            1 #10 can canned peaches
            3 cup peach juice
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_food
from recipelang.facts.food.as_purchased import above_of, parent_of
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.contributions import by_product_credits
from recipelang.findings.finding import ERROR, Edit, Finding, Fix, Place, Related
from recipelang.model.components import FRUIT
from recipelang.model.recipe import Line
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, ERROR)
def check(subject: Subject) -> Iterator[Finding]:
    facts = subject.facts
    credited = {
        measured.ref: measured.line
        for measured in subject.lines
        if measured.ref is not None and not (measured.line.optional or measured.line.not_credited)
    }
    for measured in subject.lines:
        line = measured.line
        if measured.ref is None or not measured.is_food or line.optional or line.not_credited:
            continue
        parent = parent_of(facts, measured.ref)
        if parent is None or not parent.by_product:
            continue
        crediting = crediting_of(facts, measured.ref)
        if not any(credit.component.name == FRUIT for credit in crediting.lines):
            continue
        above = above_of(facts, measured.ref)
        if above is None or above not in credited or not is_food(facts, above):
            continue
        above_crediting = crediting_of(facts, above)
        if above_crediting.packed_in != "juice" or by_product_credits(crediting, above_crediting):
            continue
        if not any(credit.component.name == FRUIT for credit in above_crediting.lines):
            continue
        counts_it = any(one.liquid == "with its liquid" for one in above_crediting.lines)
        why = "counts the liquid already" if counts_it else "does not say that it is for the drained food"
        leave = f"write `, not credited` after {line.name}"
        yield subject.finding(
            line.name_spot,
            f"{line.name} would be credited twice: the credit of {parent.name} {why}.",
            source="USDA crediting guidance: fruit, or fruit with its juice, never both",
            help=leave
            if counts_it
            else f"write `, drained` at the end of the `credits` line of {parent.name} if its figure is for the drained "
            f"food; else {leave}",
            related=(Related(subject.place(credited[above].name_spot), "the food with its liquid"),),
            fixes=(_not_credited(line),) if line.name_spot.home == subject.home else (),
        )


def _not_credited(line: Line) -> Fix:
    """The note behind the name that keeps a line from crediting."""
    end = line.name_spot.end
    edit = Edit(Place(line.name_spot.home, end, end), ", not credited")
    return Fix(f"write `, not credited` after {line.name}", (edit,), changes_food=True)
