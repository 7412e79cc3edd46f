"""The process the recipe states is not the one its steps make.

Why
    The process class decides which control points a kitchen must watch. A dish that is cooked, cooled and heated again
    passes the danger zone three times; called "same day", nobody watches the cooling.
Source
    USDA guidance for school food-safety programs on the process approach to HACCP (7 CFR 210.13(c)): no cook is no
    complete trip through 41 to 135 F, same day is one, complex is two or more.
Breaks
    food dry lentils
        arrives dry
    food water
        liquid
        not tcs
    recipe lentil soup
        course entree
        makes 50 portions of 1 cup
        process same day
        //      ^^^^^^^^ process-mismatch: "complex"
        ingredients
            10 lb dry lentils
            5 gal water
        steps
            - Simmer [dry lentils] in [water].
                boil for 40 min
                ccp chill to 41 F within 6 h in all
                ccp hold cold at 41 F or below up to 24 h
Fixed
    food dry lentils
        arrives dry
    food water
        liquid
        not tcs
    recipe lentil soup
        course entree
        makes 50 portions of 1 cup
        process complex
        ingredients
            10 lb dry lentils
            5 gal water
        steps
            - Simmer [dry lentils] in [water].
                boil for 40 min
                ccp chill to 41 F within 6 h in all
                ccp hold cold at 41 F or below up to 24 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION


@rule(RECIPE, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if recipe.process is None or not recipe.has_steps or recipe.broken:
        return
    timeline = timeline_of(subject.facts, subject.ref)
    if not timeline.controls and not timeline.passes:
        return
    stated, spot = recipe.process
    computed = timeline.computed_process
    if stated == computed:
        return
    if not timeline.is_tcs and stated in ("no cook", "same day") and computed in ("no cook", "same day"):
        return  # a dish that needs no control is sorted either way
    trips = counted(timeline.passes, "trip")
    yield subject.finding(
        spot,
        f"The recipe says `{stated}`, but its steps make it `{computed}`: {trips} through the danger zone.",
        figures=(
            Figure("found", "stated", stated),
            Figure("needed", "computed", computed, f"{trips} through 41 to 135 F"),
        ),
        source="USDA guidance on the process approach to HACCP; 7 CFR 210.13(c)",
        help=f"write `process {computed}`, or change the steps; {CAUTION}",
        fixes=(subject.fix(f"write `{computed}`", spot, computed),) if spot.home == subject.home else (),
    )
