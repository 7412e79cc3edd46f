"""A dish is kept longer than something in it that reaches the plate uncooked.

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
                //@ outlives-ingredient: "5 d" "3 d"
Fixed
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

from recipelang.facts.recipe.lots import Timeline
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Related
from recipelang.findings.wording import agree
from recipelang.model.process_lines import Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION, age_text
from recipelang.rules.safety._lives import Life, is_older, lives, outlives, shortest_life, surely_lasts
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.table import DAY

SOURCE = "FDA Food Code 3-501.17: the oldest date counts"


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    if timeline.lots:
        yield from _keeps(subject)
        yield from _held(subject, timeline)


def _keeps(subject: Subject) -> Iterator[Finding]:
    """What the dish says of itself."""
    for one in subject.recipe.keeps:
        life = shortest_life(subject.facts, subject.ref)
        if one.place != "cold" or life is None or not outlives(one.time, life.keeps):
            continue
        shown = quantity_text(life.keeps)
        is_own = one.spot.home == subject.home
        yield subject.finding(
            one.spot,
            f"{subject.name} is to keep {quantity_text(one.time)} cold, but {life.name} in it "
            f"{agree(life.name, 'keeps', 'keep')} only {_most(life.keeps)}.",
            figures=(
                Figure("found", "keeps", quantity_text(one.time)),
                Figure("needed", "at most", shown, f"{life.name}, uncooked"),
            ),
            source=SOURCE,
            help=f"write `keeps {shown} cold` or less; {CAUTION}",
            related=_related(subject, life),
            fixes=(subject.fix(f"keep {shown}", one.time_spot, shown, changes_food=True),) if is_own else (),
        )


def _held(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """What its process lines hold cold, one after the other; each line is told of what is over first."""
    told: set[int] = set()
    for life in sorted(lives(subject.facts, subject.ref), key=lambda life: surely_lasts(life.keeps)):
        past = _first_past(timeline, life)
        if past is None or past[0].start in told:
            continue
        control, age = past
        told.add(control.start)
        shown = quantity_text(life.keeps)
        held = age_text(age, control.in_days)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{life.name} {agree(life.name, 'is', 'are')} held cold for {held} in all, but "
            f"{agree(life.name, 'keeps', 'keep')} only {_most(life.keeps)}.",
            figures=(
                Figure("found", "held", held, "in all" if _lines(timeline, life) > 1 else ""),
                Figure("needed", "at most", shown, f"{life.name}, uncooked"),
            ),
            source=SOURCE,
            help=f"hold no longer than {shown} in all; freezing stops the clock and never sets it back; {CAUTION}",
            related=_related(subject, life),
        )


def _first_past(timeline: Timeline, life: Life) -> tuple[Control, Fraction] | None:
    """The line that holds it past its life, and how long it has then been held in this recipe."""
    before = since = life.lot.age_on_arrival
    for visit in life.lot.visits:
        control, grown, before = timeline.controls[visit.control], visit.age > before, visit.age
        if grown and is_older(visit.age - since, control.in_days, life.keeps):
            return control, visit.age - since
    return None


def _lines(timeline: Timeline, life: Life) -> int:
    return sum(timeline.controls[visit.control].verb in ("hold cold", "rest") for visit in life.lot.visits)


def _most(life: Quantity) -> str:
    return f"{quantity_text(life)}, the opening day being day 1" if life.unit is DAY else quantity_text(life)


def _related(subject: Subject, life: Life) -> tuple[Related, ...]:
    spot = subject.recipe.lines[life.lot.line].name_spot
    return (Related(subject.place(spot), "reaches the plate uncooked"),)
