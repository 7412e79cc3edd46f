"""What is kept from those who are highly susceptible (Food Code 3-801.11), told of a dish or of a menu that serves it to
them: raw sprouts, raw eggs, juice that nothing was done to, and honey."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_food, resolve
from recipelang.facts.food.safety import HONEY, RAW_ANIMAL, SPROUTS, UNTREATED, need_of, safety_of
from recipelang.facts.menu.eaters import Eaters, eaters_of, fed_by
from recipelang.facts.recipe.susceptible import EGGS, TIME, KeptFrom, kept_from_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.findings.finding import WARNING, Finding
from recipelang.findings.wording import agree
from recipelang.model.menu import Size
from recipelang.model.names import Ref
from recipelang.rules.rule import Subject
from recipelang.rules.safety._history import CAUTION, degrees, for_time, limits_of
from recipelang.standards.food_code import Limits
from recipelang.standards.process_states import kept_from

_PLAN = "or work by a HACCP plan that names this dish, and allow this finding by its name"


def of_recipe(subject: Subject, *what: str) -> Iterator[Finding]:
    """What a recipe serves that those who eat it must not get."""
    kept = [one for one in kept_from_of(subject.facts, subject.ref) if one.what in what]
    if not kept:
        return
    eaters = eaters_of(subject.facts, subject.ref)
    for one in kept:
        who = next((each for each in eaters if _must_not_get(each, one.what)), None)
        if who is None:
            continue
        spot = subject.recipe.lines[one.line].name_spot
        if one.what == TIME:
            control = timeline_of(subject.facts, subject.ref).controls[one.control]
            place = subject.place_of(control.home, control.start, control.end)
            yield _finding(subject, place, one, who)
        else:
            yield _finding(subject, spot, one, who)


def of_menu(subject: Subject, *what: str) -> Iterator[Finding]:
    """Foods that a menu serves as they come, without a recipe. What a recipe serves is told of the recipe."""
    facts, menu = subject.facts, subject.menu
    told: set[tuple[Ref, str]] = set()
    for size in (size for day in menu.days for line in day.lines for size in line.sizes):
        ref = resolve(facts, size.key)
        if ref is None or not is_food(facts, ref):
            continue
        kind = need_of(facts, ref).kind
        who = next((one for one in fed_by(menu, size) if _must_not_get(one, kind)), None)
        if kind in what and who is not None and (ref, kind) not in told:
            told.add((ref, kind))
            yield _finding(subject, size.name_spot, KeptFrom(kind, -1, size.name), who)


def raw_on_menu(subject: Subject) -> Iterator[Finding]:
    """Raw animal food that a menu serves as it comes: no recipe says that anybody cooks it."""
    facts, menu = subject.facts, subject.menu
    told: set[Ref] = set()
    served: list[Size] = [size for day in menu.days for line in day.lines for size in line.sizes]
    named = [(one.key, one.name, one.name_spot) for one in served]
    named += [(sale.key, sale.name, sale.name_spot) for day in menu.days for sale in day.sales]
    for key, name, spot in named:
        ref = resolve(facts, key)
        if ref is None or ref in told or not is_food(facts, ref):
            continue
        arrives = safety_of(facts, ref).arrives
        if arrives not in RAW_ANIMAL:
            continue
        told.add(ref)
        needed, citation = _cooking(limits_of(subject), arrives)
        yield subject.finding(
            spot,
            f"{name} {agree(name, 'is', 'are')} served as {agree(name, 'it comes', 'they come')}, and no recipe cooks "
            f"{agree(name, 'it', 'them')}; {arrives} must reach {needed}.",
            source=citation,
            help=f"serve a recipe that cooks {agree(name, 'it', 'them')}, with `ccp cook to {needed}`; {CAUTION}",
        )


def _cooking(limits: Limits, arrives: str) -> tuple[str, str]:
    demand = limits.cooking_of("stuffed food" if arrives == "raw stuffed food" else arrives)
    assert demand is not None
    return f"{degrees(demand.fahrenheit)}{for_time(demand.seconds)}", demand.citation


def _must_not_get(who: Eaters, what: str) -> bool:
    if what == HONEY:
        return who.has_infants
    return who.drinks_treated_juice if what == UNTREATED else who.highly_susceptible


def _finding(subject: Subject, spot: object, one: KeptFrom, who: Eaters) -> Finding:
    name = one.name.partition(" → ")[0]
    by = f" on {who.menu}" if who.menu and subject.kind != "menu" else ""
    whom = f"{who.title}{by}"
    are = agree(name, "is", "are")
    it = agree(name, "it", "them")
    severity = ""
    if one.what == SPROUTS:
        message = f"{name} {are} served raw to {whom}; raw seed sprouts are kept from children of preschool age."
        help = f"leave {it} out, or cook {it}: `ccp cook to {degrees(limits_of(subject).plant_cooking.value)}`"
    elif one.what == UNTREATED:
        message = f"{name} {are} served to {whom}, and nothing was done to make the juice safe; children of nine years or less get none."
        help = "serve pasteurized juice, or take `untreated` out of the food if its label says so"
    elif one.what == HONEY:
        message = (
            f"{name} {are} served to {whom}; honey may hold spores that make infants ill, and no kitchen kills them."
        )
        help = f"leave {it} out of what infants eat"
    elif one.what == TIME:
        message = f"{name} {are} raw and out of temperature control here, and {whom} eat {it}; time alone does not control raw eggs for them."
        help = f"keep {it} at {degrees(limits_of(subject).cold_hold.value)} or below until {agree(name, 'it is', 'they are')} cooked, or use pasteurized eggs"
    else:
        assert one.what == EGGS
        message = f"{name} {are} raw eggs that are broken together for {whom}; pasteurized eggs stand in their place."
        help = f"use eggs that say `arrives pasteurized eggs`, {_PLAN}"
        severity = WARNING
    return subject.finding(spot, message, source=kept_from(one.what), help=f"{help}; {CAUTION}", severity=severity)
