"""A tray is not enough to be claimed under offer versus serve.

Why
    Under offer versus serve a breakfast must be taken with three items, half a cup of fruit or vegetable among them, and
    a lunch with three components in full, half a cup of fruit or vegetable among them. A tray that holds that is a
    reimbursable meal as it is taken; it is never the whole offer, which must hold everything.
Source
    7 CFR 220.8(e) and 210.10(e); what an item is: USDA guidance on offer versus serve, from memory
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

from recipelang.facts.menu.ovs_items import most_items_of
from recipelang.facts.menu.packed_meals import PackedFor, packed_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import counted
from recipelang.model.needs import FRUIT_OR_VEGETABLE
from recipelang.rules.meals._told import amount, source
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.standards.load import rows


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    packed = packed_of(subject.facts, subject.ref)
    for one in packed.meals:
        if one.is_tray and one.pattern is not None and not one.serving.unknown:
            yield from _judge(subject, one)


def _judge(subject: Subject, one: PackedFor) -> Iterator[Finding]:
    assert one.pattern is not None
    limits = rows(one.pattern.program, one.pattern.group, "offer versus serve", one.on)
    if not limits:
        yield subject.finding(
            one.spot,
            f"{one.program.capitalize()} for {one.grades.title} knows no offer versus serve; the meal is served whole.",
            source="7 CFR 210.10(e) and 220.8(e)",
            help="write `offers` instead of `tray for`",
        )
        return
    fruit = limits.get("fruit in the tray") or limits["fruit or vegetable in the tray"]
    found = one.serving.amount(FRUIT_OR_VEGETABLE)
    if found < fruit.value:
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
            help="add half a cup of fruit or vegetable",
            severity=fruit.severity,
        )
    items = limits.get("items taken least")
    to_come = int(found < fruit.value)  # the fruit that is missing is an item, and a component, of its own
    if items is not None and one.items + to_come < items.value:
        at_most = max(one.items, most_items_of(one.serving))
        yield subject.finding(
            one.spot,
            f"The tray holds {counted(one.items, 'item')}; {one.program} is claimed with {items.text}.",
            figures=(Figure("found", "items", str(one.items)), Figure("needed", "at least", items.text)),
            source=source(items),
            help="add an item: 1 oz eq of grain or meat/meat alternate, 1 cup of milk, or half a cup of fruit",
            severity=items.severity if at_most < items.value else WARNING,
        )
    components = limits.get("components taken least")
    if components is not None and one.components + to_come < components.value:
        yield subject.finding(
            one.spot,
            f"The tray holds {counted(one.components, 'component')} in full; {one.program} is claimed with "
            f"{components.text}.",
            figures=(Figure("found", "components", str(one.components)), Figure("needed", "at least", components.text)),
            source=source(components),
            help="add a component in its full amount",
            severity=components.severity,
        )
