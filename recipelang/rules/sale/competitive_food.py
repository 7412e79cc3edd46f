"""Something is sold beside the meals that breaks the standards for competitive foods, or may break them.

Why
    All that is sold to students on campus until half an hour after the school day must meet these limits, as it is
    packed and with all that comes with it. An entree is free of them on the day it is on a breakfast or lunch menu and on
    the next school day, in a portion no larger; side dishes never are. What a label does not state is not met. Plain
    fruits and vegetables, nuts, eggs and seafood are free of some limits; reduced-fat cheese, seeds, bean dips and some
    others are, too, if the food says that it is `sold as` one.
Source
    7 CFR 210.11; a school of several levels is judged by its youngest students, from memory
Breaks
    food harbor cookie
        each weighs 60 g
        credits 1 oz eq grain per each
        whole grain-rich
        nutrition per each
            calories 210
            total fat 8 g
            saturated fat 2 g
            sodium 140 mg
            total sugars 15 g
    menu pier store
        program a la carte
        meals 9-12 240
        monday
            sell harbor cookie, 40, at 1.00
            //   ^^^^^^^^^^^^^ competitive-food: "210 calories" "200 calories"
Fixed
    food harbor cookie
        each weighs 60 g
        credits 1 oz eq grain per each
        whole grain-rich
        nutrition per each
            calories 200
            total fat 7 g
            saturated fat 2 g
            sodium 140 mg
            total sugars 15 g
    menu pier store
        program a la carte
        meals 9-12 240
        monday
            sell harbor cookie, 40, at 1.00
Leaves alone
    recipe bean bowl
        course entree
        makes 50 portions
        credits 2 oz eq meat/meat alternate, 1 oz eq grain
    menu harbor lunch
        program lunch
        meals 9-12 240
        friday 2026-10-09
            serve bean bowl, 240
    calendar brindle cove
        closed 2026-10-12 to 2026-10-13
    menu pier store
        program a la carte
        meals 9-12 240
        wednesday 2026-10-14
            sell bean bowl, 40, at 2.50
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from recipelang.facts.menu.serving import serving_of
from recipelang.facts.sale.competitive_foods import DRINK, ENTREE, GENERAL, Judged
from recipelang.facts.sale.exempt_foods import FAT, SATURATED
from recipelang.facts.sale.sold_items import sold
from recipelang.findings.finding import WARNING, Figure, Finding
from recipelang.findings.wording import listed, shortlist
from recipelang.model.components import GRAIN, MEAT
from recipelang.model.dates import day_text
from recipelang.model.menu import MenuDay, Sale
from recipelang.rules.rule import MENU, Subject, rule
from recipelang.text.sentence import capital


@rule(MENU)
def check(subject: Subject) -> Iterator[Finding]:
    """Each line once, for the first day that it breaks."""
    if subject.menu.is_broken:
        return
    told: set[int] = set()
    for one in sold(subject.facts, subject.ref):
        judged = one.judged
        if judged is None or one.sale.start in told or not (judged.faults or judged.missing):
            continue  # an amount that says nothing is told where it stands
        told.add(one.sale.start)
        only_by_youngest = bool(judged.faults and one.by_oldest is not None and not one.by_oldest.faults)
        yield _finding(subject, one.day, one.sale, one.on, judged, only_by_youngest)


def _finding(
    subject: Subject, day: MenuDay, sale: Sale, on: date | None, judged: Judged, only_by_youngest: bool
) -> Finding:
    when = f"{day.name}, {day_text(on)}" if on is not None else day.name
    name = capital(sale.name)
    figures = [
        Figure(f"found-{number}", "found", fault.words, _allowed(fault.allowed))
        for number, fault in enumerate(judged.faults, 1)
    ]
    figures += [
        Figure(f"missing-{number}", "unknown", what, shortlist(names, 4))
        for number, (what, names) in enumerate(judged.missing, 1)
    ]
    if judged.kind == ENTREE:
        figures.append(
            Figure(
                "exemption",
                "entree",
                "not exempt",
                "not on a breakfast or lunch menu this school day or the one before, in a portion as large",
            )
        )
    if judged.faults:
        told = listed(f"{fault.words} ({_allowed(fault.allowed)})" for fault in judged.faults)
        message = f"{name} can't be sold on {when}: {told}."
        help = "sell a smaller portion or another item"
        if judged.kind == ENTREE:
            help = "sell it on the day it is on the menu, or on the school day after, or sell a smaller portion"
        elif _may_be_free_of_fat(subject, sale, judged):
            help += (
                "; if it is part-skim or reduced-fat cheese, seeds or a bean dip, say so: write `sold as reduced-fat cheese`, "
                "`sold as nuts or seeds` or `sold as bean dip` under the food"
            )
        severity = WARNING if only_by_youngest else judged.faults[0].limit.severity
    else:
        told = listed(_unknown(judged), "or")
        message = f"Whether {sale.name} may be sold on {when} is not known without {told}."
        help = _supply(judged)
        severity = WARNING
    return subject.finding(
        sale.name_spot, message, figures=tuple(figures), source="7 CFR 210.11", help=help, severity=severity
    )  # fmt: skip


def _may_be_free_of_fat(subject: Subject, sale: Sale, judged: Judged) -> bool:
    """Whether only limits on fat are broken, by a protein food that an exemption could be meant for."""
    serving = serving_of(subject.facts, (sale.key, sale.amount_text))
    fat_only = all(fault.what in (FAT, SATURATED) for fault in judged.faults)
    return fat_only and bool(serving.amount(MEAT)) and not serving.amount(GRAIN)


_IN_WORDS = {
    GENERAL: "whether its first ingredient is a whole grain, fruit, vegetable, dairy or protein food",
    "total sugars by weight": "what a serving weighs",
    "its size in fl oz": "its size in fluid ounces",
    "calories in 8 fl oz": "calories",
}


def _unknown(judged: Judged) -> list[str]:
    """What nobody says: nutrients with the foods that leave them open, and what is asked of the item as a whole."""
    of_foods: dict[tuple[str, ...], list[str]] = {}
    of_item: list[str] = []
    for what, names in judged.missing:
        if what in (GENERAL, "total sugars by weight", "its size in fl oz"):
            of_item.append(_IN_WORDS[what])
        else:
            of_foods.setdefault(names, []).append(_IN_WORDS.get(what, what))
    return [f"the {listed(found)} of {shortlist(names)}" for names, found in of_foods.items()] + of_item


def _allowed(words: str) -> str:
    return (
        words
        if words.startswith(("at most", "less than", "none", "water, milk", "fat-free", "whole"))
        else f"at most {words}"
    )


def _supply(judged: Judged) -> str:
    if any(what != GENERAL for what, _ in judged.missing):
        what = "calories, sizes and caffeine" if judged.kind == DRINK else "these nutrients and the weight of a piece"
        return (
            f"state {what} on the foods that are named; if a limit does not hold for it, allow the finding and say why"
        )
    return (
        "write `whole grain-rich` if it is, or `credits` lines on its ingredients; if its first ingredient by weight is one "
        "of these, allow the finding and say which"
    )
