"""A cereal, yogurt or flavored milk has more sugars than the program allows in that product.

Why
    These three are limited by themselves, whatever the week's average; a yogurt above its limit can't be served, nor
    stirred into a drink. A label that does not state them leaves it open.
Source
    7 CFR 210.10 and 220.8 from July 1, 2025, 226.20(a) from October 1, 2025 (before that total sugars): 6 g in a dry ounce
    of cereal, 12 g in 6 oz of yogurt, 10 g in 8 fl oz of flavored milk
Breaks
    food vanilla yogurt
        yogurt
        credits 1 oz eq meat/meat alternate per 4 oz
        nutrition per 4 oz
            added sugars 8.1 g
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve 4 oz vanilla yogurt, 240
            //         ^^^^^^^^^^^^^^ product-sugars-over: "12.2 g" "12 g"
Fixed
    food vanilla yogurt
        yogurt
        credits 1 oz eq meat/meat alternate per 4 oz
        nutrition per 4 oz
            added sugars 8 g
    menu harbor breakfast
        program breakfast
        meals 9-12 240
        monday 2026-09-14
            serve 4 oz vanilla yogurt, 240
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from recipelang.evaluate.names import meaning_of, source_of
from recipelang.facts.menu.packed_meals import packed_of
from recipelang.facts.sale.sugar_limited_products import ADDED, TOTAL, product_of
from recipelang.findings.finding import WARNING, Figure, Finding, Place, Related
from recipelang.model.names import PANTRY, Ref
from recipelang.rules.meals._told import every_day, groups, program_of, source
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.standards.groups import Pattern
from recipelang.standards.load import figure
from recipelang.text.sentence import capital
from recipelang.units.numbers import decimal_text

PERS = {"ounce": "1 oz", "6 ounces": "6 oz", "8 fluid ounces": "8 fl oz"}


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    """Each product once, where it is first served."""
    told: set[Ref] = set()
    if subject.kind == "menu":
        for one in every_day(subject):
            pattern = one.group.pattern
            for option in one.meal.offer.options if pattern is not None else ():
                whom = f"{program_of(one.group)} for {groups([one.group])}"
                assert pattern is not None
                for ref in option.serving.products:
                    if ref not in told:
                        found = list(_judge(subject, option.size.name_spot, ref, pattern, one.meal.on, whom))
                        told.update([ref] if found else [])
                        yield from found
    elif subject.kind in ("recipe", "variation"):
        packed = packed_of(subject.facts, subject.ref)
        for meal in packed.meals:
            for ref in meal.serving.products if meal.pattern is not None else ():
                if ref not in told:
                    assert meal.pattern is not None
                    told.add(ref)
                    whom = f"{meal.program} for {meal.grades.title}"
                    yield from _judge(subject, meal.spot, ref, meal.pattern, meal.on, whom)


def _judge(subject: Subject, place: object, ref: Ref, pattern: Pattern, on: date, whom: str) -> Iterator[Finding]:
    product = product_of(subject.facts, ref)
    for what in (ADDED, TOTAL):
        limit = figure(pattern.program, pattern.group, f"product {what} of {product.kind} per {product.per}", on)
        if limit is None:
            continue
        per = PERS[product.per]
        grams = product.grams(what)
        if grams is None:
            yield subject.finding(
                place,
                f"Nobody states the {what} of {product.name}, so nobody knows whether it keeps to {limit.text} g in {per}.",
                source=source(limit),
                help=f"state `{what} … g` under the nutrition of {product.name}, and what its amount weighs",
                related=_at(subject, ref),
                severity=WARNING,
            )
        elif product.is_over(what, limit.value):
            shown = next(
                (text for places in (1, 2, 3) if (text := decimal_text(grams, places)) != limit.text),
                f"over {limit.text}",
            )
            is_close = what == ADDED and product.is_close(what, limit.value)
            yield subject.finding(
                place,
                f"{capital(product.name)} has {shown} g of {what} in {per}; {whom} allows {limit.text} g in {product.kind}.",
                figures=(
                    Figure("found", what, f"{shown} g in {per}"), Figure("needed", "at most", f"{limit.text} g in {per}")
                ),
                source=source(limit),
                help="ask your State agency, or use a product with less: a worksheet that rounds to whole grams lists this label"
                if is_close
                else "use a product with less",
                related=_at(subject, ref),
                severity=WARNING if is_close else limit.severity,
            )  # fmt: skip


def _at(subject: Subject, ref: Ref) -> tuple[Related, ...]:
    found = meaning_of(subject.facts, ref)
    if found is None or ref.startswith(PANTRY):
        return ()
    declaration = source_of(subject.facts, found.home)
    return (Related(Place(found.home, declaration.name_start, declaration.name_end), "the product"),)
