"""A food does not say whether it needs time and temperature control.

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
from recipelang.evaluate.names import body_of, is_food, is_recipe, resolve
from recipelang.facts.food.food import food_of
from recipelang.facts.food.safety import is_denied_control, safety_of
from recipelang.facts.recipe.allergens import is_made_of_itself
from recipelang.facts.recipe.cooking import MEASURED
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import HINT, WARNING, Finding
from recipelang.findings.wording import agree, shortlist
from recipelang.model.components import MEAT
from recipelang.model.names import Ref
from recipelang.model.process_lines import Control
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.rules.safety._dish import is_judged_here
from recipelang.rules.safety._history import CAUTION, is_baked_by_its_looks, limits_of, short_names
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Arrives, Fact
from recipelang.units.fraction import ZERO


@rule(DECLARATION, WARNING, hard=True)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "food":
        yield from _denied(subject)
    elif subject.kind in ("recipe", "variation"):
        yield from _of_recipe(subject)


def _denied(subject: Subject) -> Iterator[Finding]:
    """A food's bare `not tcs` over a way to arrive that needs control."""
    safety = subject.food.safety
    if not is_denied_control(safety):
        return
    line = next((line for line in subject.body.lines if isinstance(line, Fact) and line.name == "not tcs"), None)
    yield subject.finding(
        line,
        f"`not tcs` gives no reason, and food that arrives {safety.arrives} needs time and temperature control.",
        source="FDA Food Code 1-201.10(B)",
        help=f"write what shows it, as in `not tcs, water activity 0.80`, or take the line out; {CAUTION}",
    )


def _of_recipe(subject: Subject) -> Iterator[Finding]:
    """Once for a recipe. Of one that has no steps yet, and is no part of another, a hint is enough: what is raw in it is an
    error of its own."""
    if not subject.recipe.has_steps and not is_judged_here(subject):
        return
    yield from _foods(subject)
    yield from _arrivals(subject)
    yield from _without_reason(subject)
    yield from _baked(subject)


def _foods(subject: Subject) -> Iterator[Finding]:
    lines = subject.recipe.lines
    meant = [line.ref for line in subject.lines]
    unknown = list(dict.fromkeys(
        lot.line
        for lot in timeline_of(subject.facts, subject.ref).lots
        if not lot.first.known and " → " not in lot.name and _can_be_told(subject.facts, meant[lot.line])
    ))  # fmt: skip
    if not unknown:
        return
    names = list(dict.fromkeys(lines[at].name for at in unknown))
    foods = any(_is_food(subject.facts, meant[at]) for at in unknown)
    are = agree(shortlist(names), "is", "are")
    yield subject.finding(
        lines[unknown[0]].name_spot,
        f"{shortlist(names)} {agree(shortlist(names), 'does', 'do')} not say whether {agree(shortlist(names), 'it needs', 'they need')} "
        f"time and temperature control (TCS), so {agree(shortlist(names), 'it', 'they')} {are} treated as TCS.",
        source="FDA Food Code 1-201.10(B)",
        help=_mend(subject, names),
        severity=WARNING if foods and subject.recipe.has_steps else HINT,
    )


def _arrivals(subject: Subject) -> Iterator[Finding]:
    """Food that needs control and says nothing of how it arrives: it may be raw, and nothing here cooks it as raw food
    of any kind must be."""
    timeline = timeline_of(subject.facts, subject.ref)
    meant = [line.food for line in subject.lines]
    asked: dict[int, None] = {}
    boiled: dict[int, None] = {}
    settled = any(one.state.tcs and one.state.known for one in timeline.last)
    for lot in timeline.lots:
        food = meant[lot.line]
        end = timeline.end_of(lot)
        if food is not None and lot.first.known and end.tcs and not end.known and not settled:
            boiled[lot.line] = None
        if food is not None and lot.first.known and _may_be_raw(subject.facts, food):
            heats = [timeline.controls[event.control] for event in timeline.history(lot) if event.control >= 0]
            if not any(_cooks_anything(subject, control) for control in heats):
                asked[lot.line] = None
    yield from _boiled(subject, list(boiled))
    if not asked:
        return
    names = shortlist(dict.fromkeys(subject.recipe.lines[at].name for at in asked))
    yield subject.finding(
        subject.recipe.lines[next(iter(asked))].name_spot,
        f"{names} {agree(names, 'does', 'do')} not say how {agree(names, 'it arrives', 'they arrive')}, so nobody knows whether "
        f"{agree(names, 'it is', 'they are')} raw and must be cooked.",
        source="FDA Food Code 3-401.11",
        help=f"add `arrives …` to {names}: `cooked`, `ready to eat`, `raw poultry`; {CAUTION}",
        severity=WARNING if subject.recipe.has_steps else HINT,
    )


def _boiled(subject: Subject, lines: list[int]) -> Iterator[Finding]:
    """Food that needs no control as it arrives, and says no more, once water has cooked it."""
    if not lines:
        return
    names = shortlist(dict.fromkeys(subject.recipe.lines[at].name for at in lines))
    yield subject.finding(
        subject.recipe.lines[lines[0]].name_spot,
        f"{names} {agree(names, 'needs', 'need')} no control as {agree(names, 'it arrives', 'they arrive')}, and nobody knows "
        f"whether {agree(names, 'it does', 'they do')} once cooked.",
        source="FDA Food Code 1-201.10(B)",
        help=f"add `arrives dry` to {names}, or what shows that it stays safe: `not tcs, pH 3.9`; {CAUTION}",
    )


def _may_be_raw(facts: Facts, ref: Ref) -> bool:
    """Whether nothing that a food says shows that it is no raw meat, poultry, fish or egg."""
    food = food_of(facts, ref)
    if food.safety.arrives or food.safety.tcs is not True or food.milk is not None or food.parent is not None:
        return False
    body = body_of(facts, ref)
    if "arrives" in body.broken or any(isinstance(line, Arrives) for line in body.lines):
        return False  # the line that can't be read is told by itself
    crediting = food.crediting
    if crediting.yogurt or crediting.juice or crediting.group is not None or crediting.creditable is not None:
        return False
    components = {line.component.name for line in crediting.lines}
    return not components or MEAT in components


def _cooks_anything(subject: Subject, control: Control) -> bool:
    """Whether a line cooks as poultry must be, which is enough for all raw food."""
    most = limits_of(subject).cooking_of("raw poultry")
    heat = control.heat
    if most is None or control.verb not in MEASURED or heat is None:
        return False
    return most.is_met(heat.low, control.time.low if control.time is not None else ZERO)


def _is_food(facts: Facts, ref: Ref | None) -> bool:
    return ref is not None and is_food(facts, ref)


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


def _without_reason(subject: Subject) -> Iterator[Finding]:
    """A recipe's bare `not tcs` over food that is known to need control."""
    timeline = timeline_of(subject.facts, subject.ref)
    stated = subject.recipe.not_tcs
    if stated is None or not timeline.unfounded:
        return
    names = short_names(timeline.lots[number].name for number in timeline.unfounded)
    yield subject.finding(
        stated[1],
        f"`not tcs` gives no {'reason' if not stated[0] else 'reason that holds'}, and {names} "
        f"{agree(names, 'needs', 'need')} time and temperature control.",
        source="FDA Food Code 1-201.10(B)",
        help=f"write what shows it, as in `not tcs, pH 3.9` or `not tcs, water activity 0.80`, or take the line out; {CAUTION}",
    )


def _baked(subject: Subject) -> Iterator[Finding]:
    """A baked good of which nobody says whether it still needs control."""
    timeline = timeline_of(subject.facts, subject.ref)
    baked = [
        strand
        for strand in timeline.last
        if strand.state.tcs and not strand.state.held and is_baked_by_its_looks(subject, strand.state)
    ]
    if not baked:
        return
    yield subject.finding(
        None,
        f"{subject.name} does not say whether it needs time and temperature control (TCS) once it is baked.",
        source="FDA Food Code 1-201.10(B)",
        help="add why it needs none, as in `not tcs, baked through`, or hold it: a filling of cream, custard, cheese or meat "
        f"needs control; {CAUTION}",
        severity=HINT,
    )
