"""Nobody says whether a food needs time and temperature control.

Why
    Nothing is guessed from a name. What says neither how it arrives nor `tcs` or `not tcs` is taken to need control, which
    may ask for more than is needed.
Source
    FDA Food Code 1-201.10(B), time/temperature control for safety food
Breaks
    food rice blend
    recipe rice bowl
        course side
        makes 50 portions of 1/2 cup
        ingredients
            10 lb rice blend
            //    ^^^^^^^^^^ control-unknown: "rice blend"
        steps
            - Steam [rice blend].
                ccp hold hot at 135 F or above up to 2 h
Fixed
    food rice blend
        arrives dry
    recipe rice bowl
        course side
        makes 50 portions of 1/2 cup
        ingredients
            10 lb rice blend
        steps
            - Steam [rice blend].
                ccp hold hot at 135 F or above up to 2 h
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import is_food, is_recipe, resolve
from recipelang.facts.food.safety import safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import HINT, Finding
from recipelang.findings.wording import agree, shortlist
from recipelang.model.names import Ref
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold


@rule(RECIPE, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    """Once for a recipe, and only where its steps are held to the food's needs."""
    timeline = timeline_of(subject.facts, subject.ref)
    if not timeline.controls:
        return
    lines = subject.recipe.lines
    meant = [line.ref for line in subject.lines]
    unknown = [
        lot.line
        for lot in timeline.lots
        if not lot.known and " → " not in lot.name and _can_be_told(subject.facts, meant[lot.line])
    ]
    if not unknown:
        return
    names = list(dict.fromkeys(lines[at].name for at in unknown))
    yield subject.finding(
        lines[unknown[0]].name_spot,
        f"Nobody says whether {shortlist(names)} {agree(shortlist(names), 'needs', 'need')} time and temperature control; "
        f"{agree(shortlist(names), 'it is', 'they are')} taken to.",
        source="FDA Food Code 1-201.10(B)",
        help=_mend(subject, names),
    )


def _can_be_told(facts: Facts, ref: Ref | None) -> bool:
    """Whether something has the name, and it is not in a circle, which is told by itself."""
    return ref is not None and not (is_recipe(facts, ref) and is_made_of_itself(facts, ref))


def _mend(subject: Subject, names: list[str]) -> str:
    """What to write: of a ready-to-eat food its `arrives` line says nothing of control."""
    facts = subject.facts
    arriving = []
    for name in names:
        target = resolve(facts, fold(name), within=subject.ref)
        if target is not None and is_food(facts, target) and safety_of(facts, target).arrives:
            arriving.append(name)
    silent = [name for name in names if name not in arriving]
    told = []
    if silent:
        told.append(f"add `arrives …`, `tcs` or `not tcs` to {shortlist(silent)}")
    if arriving:
        told.append(f"add `tcs` or `not tcs` to {shortlist(arriving)}: ready to eat may be either")
    return "; ".join(told)
