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

from recipelang.facts.recipe.lots import Event
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import HINT, WARNING, Finding
from recipelang.model.process_lines import COLD, Control
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.rules.safety._history import CAUTION, by_control, limits_of, text_of
from recipelang.units.amount import duration_text
from recipelang.units.numbers import number_text

_OUT_OF_CONTROL = frozenset({"hold without temperature control", "work"})
_LONG = frozenset({"hold hot", "hold cold", "transport", *_OUT_OF_CONTROL})


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    timeline = timeline_of(subject.facts, subject.ref)
    for index, events in by_control(timeline).items():
        control = timeline.controls[index]
        if control.verb not in _LONG or control.time is not None:
            continue
        written = text_of(subject, control)
        yield subject.finding(
            subject.place_of(control.home, control.start, control.end),
            f"`{written}` has no time limit, so how long it takes is unknown, and unknown is never safe.",
            source="FDA Food Code 3-501.16 to 3-501.19",
            help=f"add how long, as in `{written} {_longest(subject, control)}; {CAUTION}",
            severity=WARNING if _is_counted(subject, control, index, events) else HINT,
        )


def _is_counted(subject: Subject, control: Control, index: int, events: list[Event]) -> bool:
    """Whether something rests on the length: all time out of temperature control adds up, and cold time does where the
    dish is kept, or where a line comes after it."""
    if control.verb in _OUT_OF_CONTROL:
        return True
    if control.verb != "hold cold":
        return False
    recipe = subject.recipe
    if recipe.leftovers is not None or recipe.keeps_for(COLD) is not None:
        return True
    later = {
        event.strand
        for event in timeline_of(subject.facts, subject.ref).events
        if event.control > index and _goes_on(event)
    }
    return any(event.strand in later for event in events)


def _goes_on(event: Event) -> bool:
    """Whether a later line counts how long food was held cold: one that holds it cold for so long."""
    return event.after.age > event.before.age


def _longest(subject: Subject, control: Control) -> str:
    """The end of an example, and the most that it may be."""
    limits = limits_of(subject)
    if control.verb == "hold cold":
        return f"up to 24 h`: {number_text(limits.date_mark.value)} days at the most, today being day 1"
    if control.verb in _OUT_OF_CONTROL:
        return f"up to 30 min`: {duration_text(limits.time_control.value)} in all at the most"
    return "up to 2 h`"
