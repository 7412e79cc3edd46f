"""The week's average of a limited nutrient is not known, because foods do not state it or counts are missing.

Why
    What is not stated is not zero. Until every label is read, or every choice has its planned count, nobody can say that
    the week keeps its limit; what is known may already break it, and that is told by itself.
Source
    7 CFR 210.10(c) and 220.8(c), Table 1: limits of calories, saturated fat, sodium and, from July 1, 2027, added sugars
Breaks
    food breakfast box
        nutrition per each
            calories 500
            saturated fat 4 g
    menu harbor breakfast
    //   ^^^^^^^^^^^^^^^^ average-unknown: "sodium" "breakfast box"
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve breakfast box, 240
Fixed
    food breakfast box
        nutrition per each
            calories 500
            saturated fat 4 g
            sodium 500 mg
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve breakfast box, 240
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import body_of, is_food, is_recipe, resolve
from recipelang.evaluate.unknown import UNREAD, Gap, Total
from recipelang.facts.food.food import food_of
from recipelang.facts.menu.dietary_specifications import Diet, share_of_calories
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed, shortlist
from recipelang.rules.meals._averages import every_diet
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.standards.load import Limit as Limit
from recipelang.syntax.split import fold


@rule(MENU, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    """One finding for a menu, with all that is missing."""
    missing: dict[str, dict[Gap, None]] = {}
    limits: dict[str, Limit] = {}
    for one in every_diet(subject):
        if not all(meal.offer.is_known for meal in one.week.all_days):
            continue  # what is not known of the offer is told where it is missing
        for name, gaps in _undecided(one.diet):
            missing.setdefault(name, {}).update(dict.fromkeys(gaps))
            limits.setdefault(name, next(limit for key, limit in one.diet.limits.items() if key.startswith(name)))
    if not missing:
        return
    lacking = [gap for found in missing.values() for gap in found]
    if any(_is_told(subject, gap) for gap in lacking):
        return
    names = list(dict.fromkeys(gap.name for gap in lacking))
    yield subject.finding(
        None,
        f"The week's average of {listed(missing)} is not known: {shortlist(names)} {'states' if len(names) == 1 else 'state'} no value.",
        figures=tuple(
            Figure(
                f"missing-{number}", name, shortlist(dict.fromkeys(gap.name for gap in found), 6),
                "; ".join(dict.fromkeys(gap.because for gap in found)),
            )
            for number, (name, found) in enumerate(missing.items(), 1)
        ),
        source="; ".join(dict.fromkeys(limit.source for limit in limits.values())),
        help=_mend(lacking),
    )  # fmt: skip


def _mend(lacking: list[Gap]) -> str:
    """The first line that would supply something, and where it belongs."""
    for gap in lacking:
        if gap.supply:
            return f"write `{gap.supply}`{'' if gap.supply.startswith('serve ') else f' into {gap.name}'}"
    return "state it on the labels, and plan a count for each choice"


def _is_told(subject: Subject, gap: Gap) -> bool:
    """Whether what is missing can't be read, which is told where it stands."""
    facts = subject.facts
    ref = resolve(facts, fold(gap.name))
    if gap == UNREAD or ref is None:
        return True
    if body_of(facts, ref).problems:
        return True
    return bool(
        food_of(facts, ref).problems
        if is_food(facts, ref)
        else is_recipe(facts, ref) and recipe_of(facts, ref).problems
    )


def _undecided(diet: Diet) -> Iterator[tuple[str, tuple[Gap, ...]]]:
    """Nutrients with a limit in force that what is known neither breaks nor settles."""
    calories = diet.average("calories")
    if "calories most" in diet.limits and calories.missing and _below(calories, diet.limits["calories most"]):
        yield "calories", calories.missing
    sodium = diet.average("sodium")
    if "sodium most" in diet.limits and sodium.missing and _below(sodium, diet.limits["sodium most"]):
        yield "sodium", sodium.missing
    for name in ("saturated fat", "added sugars"):
        limit = diet.limits.get(f"{name} below")
        own = diet.average(name).missing
        if limit is None or not own:
            continue
        share = share_of_calories(diet, name)
        if share.known is None or share.known < limit.value:
            yield name, own


def _below(total: Total, limit: Limit) -> bool:
    return total.known is None or total.known <= limit.value
