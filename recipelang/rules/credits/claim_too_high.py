"""A recipe claims more of a component than a portion credits.

Why
    The claim is what menus are planned on. A short credit makes the meal short, and the meal unreimbursable.
Source
    7 CFR 210.10(c); contributions are summed exactly over all ingredients and rounded down once, to 1/4 oz eq or
    1/8 cup.
Breaks
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 1/3 cup
        credits 3/8 cup fruit
        //      ^^^^^^^^^^^^^ claim-too-high: "credits only 1/4 cup"
        ingredients
            8 cup sliced peaches
Fixed
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 1/3 cup
        credits 1/4 cup fruit
        ingredients
            8 cup sliced peaches
Leaves alone
    food sliced peaches
        credits 1/4 cup fruit per 1/4 cup
        evidence regulation
    recipe peach cup
        makes 24 portions of 3/8 cup
        credits 3/8 cup fruit
        ingredients
            9 cup sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import meaning_of
from recipelang.facts.food.crediting import crediting_of
from recipelang.facts.recipe.contributions import is_unstated, unmet_condition
from recipelang.facts.recipe.credits import Credits, Row, rows_at_most
from recipelang.facts.recipe.derivation import credit_text, origins, rounding_note
from recipelang.facts.recipe.portion_room import reached
from recipelang.findings.finding import Figure, Finding, Fix
from recipelang.findings.wording import shortlist
from recipelang.model.components import ADDITIONAL, GRAIN, MEAT, MILK, PULSES, STEP, VEGETABLE, Component
from recipelang.model.names import PANTRY, ref_of
from recipelang.model.recipe import Claim
from recipelang.rules.credits._more import enough_of
from recipelang.rules.credits._slips import slip_of
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.units.amount import quantity_text
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.numbers import decimal_text

SOURCE = "7 CFR 210.10(c); summed exactly, rounded down once per portion"


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if not recipe.claims or not recipe.portions:
        return
    credits = subject.credits
    most = {row.component: row for row in rows_at_most(recipe, credits)}
    for claim in recipe.claims:
        row = most.get(claim.component)
        credited = reached(claim, row)
        if claim.amount <= credited or _is_unknown(subject, credits, claim.component):
            continue
        if row is not None and claim.amount < STEP[claim.component.name] and claim.amount <= row.least:
            continue  # too little to credit at all: below-creditable-amount says it
        yield _finding(subject, claim, row, row.credited_least if row is not None else ZERO)


def _is_unknown(subject: Subject, credits: Credits, component: Component) -> bool:
    """Whether something unreported could still make the credit good: what is missing is reported where it is missing.
    What is cooked credits no more than it would raw, which has been counted; and a food that says nothing of credits meets
    no claim."""
    counted = {one.gap for one in credits.unproven}
    if any(gap not in counted and not is_unstated(gap) for gap in credits.gaps) or subject.recipe.broken & {
        "ingredients",
        "makes",
        "grains by",
    }:
        return True
    lines = [*credits.undecided, *(credits.scratch_lines if component.name == GRAIN else ())]
    method = subject.recipe.grains_by
    if component.name == GRAIN and method is not None and not method.group and method.method != "cooked volume":
        return True
    if lines and component.name in (GRAIN, MEAT, VEGETABLE):
        return True
    return any(measured.food and crediting_of(subject.facts, measured.food).broken for measured in subject.lines)


def _finding(subject: Subject, claim: Claim, row: Row | None, credited: Fraction) -> Finding:
    component = claim.component
    claimed = credit_text(claim.amount, component)
    notes = rounding_note(row, credited, component)
    told = enumerate((*origins(subject.facts, subject.ref, component), *_unmet(subject, component)), 1)
    figures: tuple[Figure, ...] = (
        Figure("needed", "claimed", claimed),
        Figure("found", "credits", credit_text(credited, component) if credited else "nothing", notes),
        *(Figure(f"from-{number}", "from", text) for number, text in told),
    )
    silent = shortlist(dict.fromkeys(subject.credits.unstated))
    if silent:
        figures += (Figure("silent", "counts as none", silent, "no `credits` line"),)
    if credited:
        message = (
            f"The recipe claims {claimed} of {component.title}, but a portion credits only "
            f"{credit_text(credited, component)}."
        )
    else:
        message = f"The recipe claims {claimed} of {component.title}, but a portion credits none."
    quick_fixes: list[str] = list(_prepared(subject, component))
    fixes: list[Fix] = []
    slip = slip_of(subject, component, claim.amount, row)
    if slip is not None:
        quick_fixes.append(slip.help)
        fixes += [slip.fix] if slip.fix is not None else []
    if credited:
        better = f"{credit_text(credited, component)} {component.title}"
        quick_fixes.append(f"claim {credit_text(credited, component)}")
        fixes.append(subject.fix(f"claim {better}", claim.spot, better, changes_food=True))
    if _fits_as_additional(subject, claim):
        better = f"{claimed} {Component(VEGETABLE, ADDITIONAL).title}"
        quick_fixes.append(f"claim {better}")
        fixes.append(subject.fix(f"claim {better}", claim.spot, better, changes_food=True))
    more = enough_of(subject, component, claim.amount, row)
    if more is not None:
        quick_fixes.append(f"use {more.text}")
        if more.fix is not None:
            fixes.append(more.fix)
    quick_fixes.extend(_why_nothing(subject, component))
    if silent and not quick_fixes:
        quick_fixes += [f"write into {silent} what it credits", "leave the claim out"]
    if not quick_fixes:
        quick_fixes.append(f"leave the claim out, or add a food that credits {component.title}")
    return subject.finding(
        claim.spot, message, figures=figures, source=SOURCE, help=", or ".join(quick_fixes[:2]), fixes=tuple(fixes)
    )


def _fits_as_additional(subject: Subject, claim: Claim) -> bool:
    """Whether what the vegetables leave over would meet the claim without its subgroup."""
    if claim.component.name != VEGETABLE or claim.component.subgroup in (None, PULSES, ADDITIONAL):
        return False
    if any(one.component.subgroup == ADDITIONAL for one in subject.recipe.claims):
        return False
    row = subject.credits.row(Component(VEGETABLE, ADDITIONAL))
    return row is not None and row.credited_least >= claim.amount


def _unmet(subject: Subject, component: Component) -> Iterator[str]:
    """Foods whose credit hangs on more of a nutrient than they hold."""
    for measured in subject.lines:
        if measured.ref is None or not measured.is_food:
            continue
        for line in crediting_of(subject.facts, measured.ref).lines:
            if line.component != component or line.needs is None:
                continue
            found = unmet_condition(subject.facts, measured, line)
            if isinstance(found, Fraction):
                least, nutrient = line.needs
                yield (
                    f"{measured.line.name}: {decimal_text(found, 1)} g of {nutrient} in {quantity_text(line.per)}, where its "
                    f"credit needs {quantity_text(least)}"
                )


def _prepared(subject: Subject, component: Component) -> Iterator[str]:
    """Ingredients that say nothing of a credit where a built-in food named after them, as it is served, has one."""
    facts = subject.facts
    for measured in subject.lines:
        if measured.ref is None or not measured.is_food or crediting_of(facts, measured.ref).lines:
            continue
        begin = ref_of("food", measured.line.name) + " "
        for ref in facts.pantry.of_kind("food"):
            if not ref.startswith(begin):
                continue
            crediting = crediting_of(facts, PANTRY + ref)
            if any(line.component.name == component.name for line in crediting.lines):
                served = meaning_of(facts, PANTRY + ref)
                assert served is not None
                yield f"write `{served.name}`, which has a credit, for {measured.line.name}"
                break


def _why_nothing(subject: Subject, component: Component) -> Iterator[str]:
    recipe = subject.recipe
    if component.name == MILK and not recipe.is_drink:
        yield "milk credits only where it is drunk: say `course drink`, or put it `on the side`"
    elif recipe.is_drink and component.name == GRAIN:
        yield "grains do not credit in a drink: leave the claim out"
    elif recipe.is_drink and component.name == MEAT:
        yield "in a drink only yogurt credits as meat alternate"
    elif component.subgroup == ADDITIONAL:
        yield "claim less of a subgroup, so that more is left over"
