"""A dish is to keep longer than something in it that reaches the plate uncooked.

Why
    A cup is no fresher than the opened tub of yogurt in it. What is cooked on the way starts a new clock; what is only
    stirred in does not.
Source
    FDA Food Code 3-501.17: food combined from several takes the oldest date, and the maker's.
Breaks
    food whipped ricotta
        arrives ready to eat
        tcs
        keeps 21 d cold, 3 d opened
    recipe ricotta cup
        course entree
        makes 50 portions of 2 oz
        keeps 5 d cold
        //    ^^^^^^^^ outlives-ingredient: "3 d"
        ingredients
            6 lb 4 oz whipped ricotta
        steps
            - Portion [whipped ricotta].
                ccp hold cold at 41 F or below up to 5 d
Mended
    food whipped ricotta
        arrives ready to eat
        tcs
        keeps 21 d cold, 3 d opened
    recipe ricotta cup
        course entree
        makes 50 portions of 2 oz
        keeps 3 d cold
        ingredients
            6 lb 4 oz whipped ricotta
        steps
            - Portion [whipped ricotta].
                ccp hold cold at 41 F or below up to 3 d
Leaves alone
    food low-fat milk
        arrives ready to eat
        tcs
        liquid
        keeps 10 d cold, 3 d opened
    food whole wheat flour
        arrives dry
    recipe muffin
        course grain
        makes 50 portions of 1 each
        not tcs, water activity 0.80
        keeps 5 d at room temperature
        ingredients
            3 qt low-fat milk
            5 lb whole wheat flour, not credited
        steps
            - Mix [low-fat milk] and [whole wheat flour], and bake.
                cook at 375 F for 20 min
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from recipelang.evaluate.timeline import HEATING, Lot, Timeline
from recipelang.findings.finding import Figure, Finding, Related
from recipelang.findings.wording import agree
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION, timeline_of
from recipelang.syntax import tree
from recipelang.units.amount import Quantity, quantity_text, read_amount
from recipelang.units.table import DAY


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject)
    if not timeline.lots:
        return
    assembly = subject.library.get("assembly", subject.ref).assembly
    for home, line in assembly.fields:
        if not isinstance(line, tree.Keeps):
            continue
        for item in line.items:
            keeps = read_amount(item.time.text).quantity
            if keeps is None or item.place.text.casefold() != "cold":
                continue
            shortest = _shortest(subject, timeline)
            if shortest is None or not outlives(keeps, shortest[1]):
                continue
            lot, life = shortest
            spot = subject.recipe.lines[lot.line].name_spot
            yield subject.finding(
                subject.place_of(home, item.time.start, item.place.end),
                f"{subject.name} is to keep {quantity_text(keeps)} cold, but {lot.name} in it "
                f"{agree(lot.name, 'keeps', 'keep')} only {quantity_text(life)}"
                + (", the opening day being day 1." if life.unit is DAY else "."),
                figures=(
                    Figure("found", "keeps", quantity_text(keeps)),
                    Figure("needed", "at most", quantity_text(life), f"{lot.name}, uncooked"),
                ),
                source="FDA Food Code 3-501.17: the oldest date counts",
                mend=f"write `keeps {quantity_text(life)} cold` or less; {CAUTION}",
                related=(Related(subject.place(spot), "reaches the plate uncooked"),),
            )


def _shortest(subject: Subject, timeline: Timeline) -> tuple[Lot, Quantity] | None:
    """The lot with the shortest life among those that need control and that nothing heats."""
    found: tuple[Lot, Quantity] | None = None
    for lot in timeline.lots:
        if not lot.tcs or any(timeline.controls[visit.control].verb in HEATING for visit in lot.visits):
            continue
        life = _life(subject, lot)
        if life is not None and (found is None or _shortest_case(life) < _shortest_case(found[1])):
            found = (lot, life)
    return found


def _life(subject: Subject, lot: Lot) -> Quantity | None:
    """How long an ingredient keeps once it is opened, else cold; of a recipe, how long it keeps cold."""
    library = subject.library
    target = library.resolve(subject.recipe.lines[lot.line].key, within=subject.ref)
    if target is None:
        return None
    if library.is_food(target):
        keeps = dict(library.get("safety", target).keeps)
        return keeps.get("opened") or keeps.get("thawed") or keeps.get("cold")
    if library.is_recipe(target) and target != subject.ref and not library.in_cycle(subject.ref, target):
        found: Quantity | None = dict(library.recipe(target).keeps).get("cold")
        return found
    return None


def _shortest_case(life: Quantity) -> Fraction:
    """The seconds that a life surely lasts: days count by the calendar, the first being day 1."""
    return (life.value - 1) * 86400 if life.unit is DAY else life.base


def outlives(keeps: Quantity, life: Quantity) -> bool:
    """Whether one life is longer than another; hours reach into one more day than they fill."""
    if keeps.unit is DAY and life.unit is DAY:
        return keeps.value > life.value
    if keeps.unit is DAY:
        return keeps.base > life.base
    return keeps.base > _shortest_case(life)
