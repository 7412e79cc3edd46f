"""What goes into a container is more than fits below its headspace.

Why
    A cup that is filled past its headspace does not close, or closes and leaks over the ones below it in the cooler.
Source
    the container's own `holds` and `headspace`, measured with water
Breaks
    food sliced peaches
    food low-fat yogurt
        weighs 245 g per cup
    container clear cup 8
        holds 8 fl oz
        headspace 1/2 fl oz
    recipe peach cup
        makes 10 portions
        in clear cup 8
        // ^^^^^^^^^^^ overfilled-container: "8.2 fl oz"
        ingredients per portion
            1/2 cup sliced peaches
            4 1/2 oz low-fat yogurt
Fixed
    food sliced peaches
    food low-fat yogurt
        weighs 245 g per cup
    container clear cup 8
        holds 8 fl oz
        headspace 1/4 fl oz
    recipe peach cup
        makes 10 portions
        in clear cup 8
        ingredients per portion
            1/2 cup sliced peaches
            4 oz low-fat yogurt
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import meaning_of, source_of
from recipelang.facts.recipe.container_fill import Filled, fill_of
from recipelang.findings.finding import Figure, Finding, Place, Related
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import fluid_ounces_text
from recipelang.units.numbers import number_text


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    for filled in fill_of(subject.facts, subject.ref).containers:
        over = [(name, fit, pieces) for name, fit, pieces in filled.counts if pieces > fit]
        for name, fit, pieces in over:
            yield subject.finding(
                filled.spot,
                f"{filled.name} fits {number_text(fit)} of {name}; this recipe packs {number_text(pieces)}.",
                figures=(Figure("found", "packed", number_text(pieces)), Figure("needed", "fits", number_text(fit))),
                source=f"`fits` of {filled.name}",
                help="use a larger container or fewer pieces",
                related=_container_place(subject, filled),
            )
        if not over:
            yield from _volume(subject, filled)  # too many pieces are too much volume as well, and said once


def _volume(subject: Subject, filled: Filled) -> Iterator[Finding]:
    known = filled.filled.known
    if filled.room is None or known is None or known <= filled.room or filled.holds is None:
        return
    at_least = "at least " if filled.filled.missing else ""
    parts = tuple(
        Figure(f"from-{number}", "from", f"{fluid_ounces_text(cups)} {name}")
        for number, (name, cups) in enumerate(sorted(filled.parts, key=lambda part: -part[1])[:4], 1)
    )
    over = known - filled.holds
    beyond = f"{fluid_ounces_text(over)} more than it holds" if over > 0 else "above the fill line"
    yield subject.finding(
        filled.spot,
        f"{at_least.capitalize()}{fluid_ounces_text(known)} go into {filled.name}, which takes "
        f"{fluid_ounces_text(filled.room)} below its headspace.",
        figures=(
            Figure("found", "filled", f"{at_least}{fluid_ounces_text(known)}", beyond),
            Figure("needed", "room", fluid_ounces_text(filled.room), f"holds {fluid_ounces_text(filled.holds)}"),
            *parts,
        ),
        source=f"`holds` and `headspace` of {filled.name}",
        help="use a larger container, put less in, or pack a part `on the side`",
        related=_container_place(subject, filled),
    )


def _container_place(subject: Subject, filled: Filled) -> tuple[Related, ...]:
    found = meaning_of(subject.facts, filled.container)
    if found is None or filled.container.startswith("pantry:"):
        return ()
    source = source_of(subject.facts, found.home)
    return (Related(Place(found.home, source.name_start, source.name_end), "the container"),)
