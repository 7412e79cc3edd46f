"""A claim depends on a raw vegetable or fruit that is cooked, and only its raw credit is known.

Why
    Greens wilt and squash roasts down: a gallon of raw kale is three cups on the plate. Raw cups say nothing of what is
    served, so until somebody says what the food credits cooked, the claim rests on nothing.
Source
    7 CFR 210.10(c)(2): fruits and vegetables credit by volume as served. Yield tables (Food Buying Guide) give the cooked
    cups of a pound as purchased.
Breaks
    food fresh kale chopped
        arrives cut leafy greens
        credits 1/2 cup dark green vegetable per cup as served
        evidence regulation
    recipe winter greens
        makes 6 portions
        credits 1/2 cup dark green vegetable
        //      ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ cooked-credit-unknown: "fresh kale chopped"
        ingredients
            1 gal fresh kale chopped
        steps
            - Cook [fresh kale chopped] until soft.
                simmer for 10 min
Fixed
    food fresh kale chopped
        arrives cut leafy greens
        weighs 1 lb per gal
        credits 1/2 cup dark green vegetable per cup as served, raw
        credits 3 1/2 cups dark green vegetable per lb as purchased, cooked
        evidence yield table
    recipe winter greens
        makes 6 portions
        credits 1/2 cup dark green vegetable
        ingredients
            1 gal fresh kale chopped
        steps
            - Cook [fresh kale chopped] until soft.
                simmer for 10 min
Leaves alone
    food fresh kale chopped
        arrives cut leafy greens
        credits 1/2 cup dark green vegetable per cup as served
        evidence regulation
    recipe green salad
        makes 16 portions
        process no cook
        credits 1/2 cup dark green vegetable
        ingredients
            1 gal fresh kale chopped
        steps
            - Toss [fresh kale chopped].
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.recipe.contributions import Unproven
from recipelang.facts.recipe.credits import rows_at_most
from recipelang.facts.recipe.derivation import belongs_to, credit_text
from recipelang.facts.recipe.portion_room import reached
from recipelang.findings.finding import HINT, WARNING, Figure, Finding
from recipelang.findings.wording import agree, listed
from recipelang.model.components import Component
from recipelang.rules.rule import RECIPE, Subject, rule


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    recipe, credits = subject.recipe, subject.credits
    if not credits.unproven or not recipe.portions:
        return
    if not recipe.claims and not recipe.claims_nothing:
        yield _unclaimed(subject)
        return
    most = {row.component: row for row in rows_at_most(recipe, credits)}
    for claim in recipe.claims:
        least, possible = (reached(claim, row) for row in (credits.row(claim.component), most.get(claim.component)))
        parts = _of(subject, claim.component)
        if not least < claim.amount <= possible or not parts:
            continue
        component = claim.component
        known = credit_text(least, component) if least else "nothing"
        yield subject.finding(
            claim.spot,
            f"The recipe claims {credit_text(claim.amount, component)} of {component.title}, and no line says what "
            f"{_credit(parts)} cooked.",
            figures=(
                Figure("needed", "claimed", credit_text(claim.amount, component)),
                Figure("found", "known", known, "without what is cooked"),
                Figure("at-most", "raw", credit_text(possible, component), "if nothing shrank"),
            ),
            source="7 CFR 210.10(c)(2): fruits and vegetables credit by volume as served",
            help=_help(parts),
        )


def _of(subject: Subject, component: Component) -> list[Unproven]:
    return [one for one in subject.credits.unproven if belongs_to(one.at_most, component)]


def _unclaimed(subject: Subject) -> Finding:
    """Nothing is claimed, so no meal is planned on it yet: a menu that serves the dish will call it unknown."""
    parts = list(subject.credits.unproven)
    line = subject.recipe.lines[parts[0].at_most.at]
    return subject.finding(
        line.name_spot,
        f"No line says what {_credit(parts)} cooked, so what the dish credits is unknown.",
        source="7 CFR 210.10(c)(2): fruits and vegetables credit by volume as served",
        help=_help(parts),
        severity=HINT,
    )


def _credit(parts: list[Unproven]) -> str:
    names = listed(dict.fromkeys(one.gap.name for one in parts))
    return f"{names} {agree(names, 'credits', 'credit')}"


def _help(parts: list[Unproven]) -> str:
    return (
        f"add `{parts[0].gap.supply}` to {parts[0].gap.name} from the yield table, or state the cooked measure in a food "
        "that `arrives cooked`"
    )
