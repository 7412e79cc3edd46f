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

from recipelang.facts.food.life import DAY_SECONDS, outlives
from recipelang.facts.recipe.lots import Event, State, Timeline
from recipelang.facts.recipe.shelf_life import Life, shelf_life_of, shortest_life_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding, Related
from recipelang.findings.wording import agree
from recipelang.model.process_lines import COLD
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION, age_text
from recipelang.units.amount import Quantity, quantity_text
from recipelang.units.fraction import Fraction
from recipelang.units.table import DAY

SOURCE = "FDA Food Code 3-501.17: the oldest date counts"


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    if timeline.lots and subject.recipe.has_steps:
        yield from _keeps(subject)
        yield from _held(subject, timeline)


def _keeps(subject: Subject) -> Iterator[Finding]:
    """What the dish says of itself."""
    for keeps in subject.recipe.keeps:
        life = shortest_life_of(subject.facts, subject.ref) if keeps.place == COLD else None
        if life is None or not outlives(keeps.time, life.keeps):
            continue
        shown = quantity_text(life.keeps)
        fixes = (subject.fix(f"keep {shown}", keeps.time_spot, shown, changes_food=True),)
        yield subject.finding(
            keeps.spot,
            f"{subject.name} is dated {quantity_text(keeps.time)} cold, but {life.name} in it "
            f"{agree(life.name, 'is', 'are')} good for only {_most(life.keeps)}.",
            figures=(
                Figure("found", "keeps", quantity_text(keeps.time)),
                Figure("needed", "at most", shown, f"{life.name}, uncooked"),
            ),
            source=SOURCE,
            help=f"write `keeps {shown} cold` or less; {CAUTION}",
            related=_related(subject, life),
            fixes=fixes if keeps.spot.home == subject.home else (),
        )


def _held(subject: Subject, timeline: Timeline) -> Iterator[Finding]:
    """What its process lines hold cold, one after the other; each line is told of what is over first."""
    lives = {life.line: life for life in shelf_life_of(subject.facts, subject.ref)}
    told: set[int] = set()
    over: set[int] = set()
    for event in timeline.events:
        if event.control < 0:
            continue
        control = timeline.controls[event.control]
        if event.control in told or event.after.shortest in over or not event.before.tcs:
            continue
        if not _is_past(event.after, control.in_days) or event.after.age <= event.before.age:
            continue
        life = lives.get(timeline.lots[event.after.shortest].line)
        if life is None:
            continue
        told.add(event.control)
        over.add(event.after.shortest)
        shown = quantity_text(life.keeps)
        first = timeline.lots[event.after.shortest].first
        held = age_text(_spare(first) - _spare(event.after), control.in_days)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"{life.name} {agree(life.name, 'is', 'are')} held cold for {held} in all, but "
            f"{agree(life.name, 'is', 'are')} good for only {_most(life.keeps)}.",
            figures=(
                Figure("found", "held", held, "in all" if _lines(timeline, event) > 1 else ""),
                Figure("needed", "at most", shown, f"{life.name}, uncooked"),
            ),
            source=SOURCE,
            help=f"hold no longer than {shown} in all; freezing stops the clock and never sets it back; {CAUTION}",
            related=_related(subject, life),
        )


def _is_past(state: State, in_days: bool) -> bool:
    """Whether something in it is past its life; a life told in hours ends within the day that a hold told in days ends
    on."""
    return state.spare_days < 0 or state.spare_hours < (DAY_SECONDS if in_days else 0)


def _spare(state: State) -> Fraction:
    return min(state.spare_days, state.spare_hours)


def _lines(timeline: Timeline, last: Event) -> int:
    """How many lines hold it, up to one of them."""
    lot = timeline.lots[last.after.shortest]
    return sum(event.after.age > event.before.age for event in timeline.history(lot))


def _most(life: Quantity) -> str:
    return f"{quantity_text(life)} (day 1 is the day opened or made)" if life.unit is DAY else quantity_text(life)


def _related(subject: Subject, life: Life) -> tuple[Related, ...]:
    spot = subject.recipe.lines[life.line].name_spot
    return (Related(subject.place(spot), "reaches the plate uncooked"),)
