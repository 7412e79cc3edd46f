"""A food of school meals is imported, and nobody says why it may be.

Why
    Food that is not domestic may be bought where it is on the list of nonavailable articles, where none of enough quality and
    amount is to be had in the United States, or where bids show that domestic food costs significantly more. The last two
    need a paper that shows it, with its date.
Source
    7 CFR 210.21(d)(5) and 220.16(d)(5); 48 CFR 25.104
Breaks
    food mandarin cup
        credits 1/2 cup fruit per each
        imported
    //  ^^^^^^^^ import-without-reason: "doesn't say why"
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve mandarin cup, 240
Fixed
    food mandarin cup
        credits 1/2 cup fruit per each
        imported, not available, 2026-06-01
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve mandarin cup, 240
Leaves alone
    food mandarin cup
        credits 1/2 cup fruit per each
        imported, on the nonavailable list
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve mandarin cup, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.menu.purchases import has_school_menu
from recipelang.findings.finding import WARNING, Finding
from recipelang.model.vocabulary import NONAVAILABLE
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree

_SOURCE = "7 CFR 210.21(d)(5) and 220.16(d)(5); 48 CFR 25.104"


@rule(FOOD, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    purchase = subject.food.purchase
    if purchase.origin != "imported" or not has_school_menu(subject.facts):
        return  # where no school breakfast or lunch is planned, nothing asks for a reason
    line = next((one for one in subject.body.lines if isinstance(one, tree.Fact) and one.name == "imported"), None)
    if not purchase.import_reason:
        yield subject.finding(
            line,
            f"{subject.name} is imported, and doesn't say why it may be bought.",
            source=_SOURCE,
            help=f"write `imported, {NONAVAILABLE}`, or `imported, not available, DATE` or `imported, domestic costs more, "
            "DATE` with the date of the paper that shows it",
        )
    elif purchase.import_reason != NONAVAILABLE and purchase.import_date is None:
        yield subject.finding(
            line,
            f"{subject.name} is imported because it is {_reason(purchase.import_reason)}, and no date of a paper shows it.",
            source=_SOURCE,
            help=f"write the date of the paper: `imported, {purchase.import_reason}, DATE`",
        )


def _reason(reason: str) -> str:
    return "not available here" if reason == "not available" else "cheaper than domestic food"
