"""A snack doesn't hold enough of two components, or holds only drinks.

Why
    A snack is full amounts of any two components, and only one of them may be a drink: milk and juice together are no
    snack. Every choice counts: a student who takes any of them must end with two.
Source
    7 CFR 210.10(o), 226.20(c) and 225.16
Breaks
    food low-fat milk half pint
        milk 1%, unflavored
        credits 1 cup milk per each
    food orange juice
        juice
        credits 1 cup fruit per cup
    menu bay snack
        program snack
        meals K-8 60
        monday
    //  ^^^^^^ short-snack: "only one drink counts" "2"
            serve low-fat milk half pint, 60
            serve 3/4 cup orange juice, 60
Fixed
    food graham pack
        credits 1 oz eq grain per each
    food orange juice
        juice
        credits 1 cup fruit per cup
    menu bay snack
        program snack
        meals K-8 60
        monday
            serve graham pack, 60
            serve 3/4 cup orange juice, 60
Leaves alone
    food graham pack
        credits 1 oz eq grain per each
    food cheese stick
        credits 1 oz eq meat/meat alternate per each
    food apple
        credits 1 cup fruit per each
    menu bay snack
        program snack
        meals K-8 60
        monday
            choose 2
                serve graham pack, 40
                serve cheese stick, 40
                serve apple, 40
            end
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import counted, listed
from recipelang.model.menu import Span
from recipelang.rules.meals._told import amount, every_day, groups, once, program_of, source, title, when
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import figure


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    yield from once(_all(subject))


def _all(subject: Subject) -> Iterator[Finding]:
    for one in every_day(subject):
        pattern, meal = one.group.pattern, one.meal
        limit = None if pattern is None else figure(pattern.program, pattern.group, "snack components least", meal.on)
        if limit is None or meal.met is None or not meal.offer.is_known or meal.met >= limit.value:
            continue
        whom = f"{program_of(one.group)} for {groups([one.group])}"
        drinks = any(option.serving.is_drink and option.serving.amounts for option in meal.offer.options)
        full = [title(met.name) for met in meal.needs if not met.is_short]
        message = (
            f"{when(meal.day)} holds enough of {counted(meal.met, 'component')}; {whom} needs {limit.text}"
            f"{', of which one may be a drink' if drinks else ''}."
        )
        if drinks and len(full) >= limit.value:
            message = (
                f"{when(meal.day)} holds enough of {listed(full)}, but only one drink counts; {whom} needs {limit.text} "
                "components."
            )
        # an amount from memory may be wrong, and with it the count
        severity = max((limit.severity, *(met.figure.severity for met in meal.needs)), key=("error", "warning").index)
        yield subject.finding(
            Span(meal.day.start, meal.day.end),
            message,
            figures=(
                Figure("found", "full amounts", str(meal.met)),
                Figure("needed", "needed", limit.text),
                *(
                    Figure(
                        f"from-{number}",
                        "from",
                        f"{title(met.name)}: {amount(met.found, met.name) if met.found else 'none'} of "
                        f"{amount(met.figure.value, met.name)}",
                    )
                    for number, met in enumerate(meal.needs, 1)
                ),
            ),
            source=source(limit),
            help="serve the full amount of a second component that is eaten",
            severity=severity,
        )  # fmt: skip
