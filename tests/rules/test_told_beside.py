"""What stands beside a finding about a day: which amounts were taken as they are bought, and which foods count as none
because nobody says what they credit."""

from __future__ import annotations

from tests.harness.checking import check

LUNCH = """food frozen corn
    weighs 160 g per cup
    credits 2.4 cups starchy vegetable per lb as purchased
food corn
    credits 1/4 cup starchy vegetable per 1/4 cup
food turkey slices
    arrives ready to eat
food ranch dip
    liquid
food rest of the tray
    credits 2 oz eq grain per each
    credits 1 cup fruit per each
    credits 1 cup milk per each
menu harbor lunch
    program lunch
    meals 9-12 240
    monday
        serve rest of the tray, 240
"""


def beside(lines: str, rule: str) -> list[tuple[str, str, str]]:
    (found,) = check(LUNCH + lines, {rule})
    return [(figure.label, figure.value, figure.note) for figure in found.finding.figures if figure.label != "needed"]


def test_an_amount_taken_as_it_is_bought_says_so() -> None:
    """A cup of frozen corn is 160 g, which at 2.4 cups a pound is 0.85 cup of vegetable."""
    told = beside("        serve 1 cup frozen corn, 240\n", "short-component")
    assert ("from", "1 cup frozen corn, as purchased: 3/4 cup", "") in told


def test_an_amount_as_served_says_nothing_more() -> None:
    told = beside("        serve 3/4 cup corn, 240\n", "short-component")
    assert ("from", "3/4 cup corn: 3/4 cup", "") in told


def test_a_food_that_says_nothing_of_its_credits_is_named() -> None:
    """What is poured is left out: a dip credits nothing, and saying so would hide the turkey."""
    lines = "        serve 2 oz turkey slices, 240\n        serve 1 oz ranch dip, 240\n        serve 1 cup corn, 240\n"
    told = beside(lines, "missing-component")
    assert ("counts as none", "turkey slices", "no `credits` line") in told
