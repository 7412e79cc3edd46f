"""A tray is not enough to be claimed under offer versus serve.

Why
    Under offer versus serve a breakfast must be taken with three items, half a cup of fruit or vegetable among them, and
    a lunch with three components in full, half a cup of fruit or vegetable among them: a quarter cup of each will do, and
    counts once. Suppers of at-risk programs, meals of adults and summer meals of schools have no such half cup. A tray
    that holds enough is a reimbursable meal as it is taken; it is never the whole offer, which must hold everything.
Source
    7 CFR 220.8(e), 210.10(e), 225.16(f)(1)(ii) and 226.20(o); what an item of a school breakfast is has not yet been
    checked against the source
Breaks
    food oat bar
        credits 1 oz eq grain per each
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    recipe quick breakfast
        makes 50 portions
        tray for breakfast, grades 9-12
        //       ^^^^^^^^^^^^^^^^^^^^^^ tray-short: "fruit"
        ingredients per portion
            1 each oat bar
            1 each fat-free milk half pint, on the side
Fixed
    food oat bar
        credits 1 oz eq grain per each
    food apple wedges
        credits 1/4 cup fruit per 1/4 cup
    food fat-free milk half pint
        milk fat-free, unflavored
        credits 1 cup milk per each
    recipe quick breakfast
        makes 50 portions
        tray for breakfast, grades 9-12
        ingredients per portion
            1 each oat bar
            1/2 cup apple wedges
            1 each fat-free milk half pint, on the side
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.offer_versus_serve import limits_of
from recipelang.facts.menu.packed_meals import PackedFor, packed_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._told import amount, source
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.standards.load import Limit


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    packed = packed_of(subject.facts, subject.ref)
    for one in packed.meals:
        if one.is_tray and one.pattern is not None and not one.serving.unknown:
            yield from _judge(subject, one, limits_of(one.pattern, one.on))


def _judge(subject: Subject, one: PackedFor, limits: dict[str, Limit]) -> Iterator[Finding]:
    fruit = limits.get("fruit in the tray") or limits.get("fruit or vegetable in the tray")
    found = one.serving.amount(FRUIT_OR_VEGETABLE)
    lacks_fruit = fruit is not None and found < fruit.value
    if fruit is not None and lacks_fruit:
        holds = f"{amount(found, 'fruit')} of" if found else "no"
        yield subject.finding(
            one.spot,
            f"The tray holds {holds} fruit or vegetable; {one.program} needs "
            f"{amount(fruit.value, 'fruit')} in every tray.",
            figures=(
                Figure("found", "in the tray", amount(found, "fruit") if found else "none"),
                Figure("needed", "at least", amount(fruit.value, "fruit")),
            ),
            source=source(fruit),
            help=f"add {amount(fruit.value - found, 'fruit')} of fruit or vegetable",
            severity=fruit.severity,
        )
    # the fruit that is missing is an item, and a component, of its own
    to_come = int(lacks_fruit)
    items = limits.get("items taken least")
    if items is not None and one.items + to_come < items.value:
        yield _too_few(subject, one, items, one.items, "item", "items")
    components = limits.get("components taken least")
    if components is not None and one.components + to_come < components.value:
        yield _too_few(subject, one, components, one.components, "component", "components in full")


def _too_few(subject: Subject, one: PackedFor, least: Limit, found: int, noun: str, taken: str) -> Finding:
    is_item = noun == "item"
    full = "" if is_item else " in full"
    return subject.finding(
        one.spot,
        f"The tray holds {counted(found, noun)}{full}; {one.program} for {one.grades.title} is claimed with {least.text}.",
        figures=(Figure("found", taken, str(found)), Figure("needed", "at least", least.text)),
        source=source(least),
        help="add an item (1 oz eq of grain or meat/meat alternate, 1 cup of milk, or half a cup of fruit), or say of a food "
        "of 2 oz eq that it `counts as 2 items`"
        if is_item
        else "add a component in its full amount",
        # what an item is comes from guidance: where another count could be enough, it only warns
        severity=WARNING if is_item and one.items_most >= least.value else least.severity,
    )
