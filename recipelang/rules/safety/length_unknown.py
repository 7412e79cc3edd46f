"""A hold, a rest or work at room temperature has no length.

Why
    How long food stands decides whether it is safe. A length that is not written is unknown, and unknown is never safe.
Source
    FDA Food Code 3-501.16 to 3-501.19
Breaks
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 41 F or below
                //@ length-unknown: "how long"
Fixed
    food diced chicken
        arrives cooked
    recipe chicken salad
        course entree
        makes 50 portions of 3 oz
        ingredients
            10 lb diced chicken
        steps
            - Portion [diced chicken].
                ccp hold cold at 41 F or below up to 24 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import HINT, Finding
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import controlled, text_of

_LONG = frozenset({"hold hot", "hold cold", "hold without temperature control", "work", "transport"})


@rule(RECIPE, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    for index, control in enumerate(timeline.controls):
        if control.verb in _LONG and control.time is None and controlled(timeline, index):
            written = text_of(subject, control)
            yield subject.finding(
                subject.place_of(control.home, control.start, control.end),
                f"Nothing says how long: `{written}` has no length, so it counts as unknown.",
                source="FDA Food Code 3-501.16 to 3-501.19",
                help=f"write the longest it may take, as in `{written} up to 2 h`",
            )
