"""Numbers that no kitchen has, in every place a number can stand: one finding each, at the number."""

from __future__ import annotations

from itertools import product

import pytest

from recipelang import Workspace, figures

TEXT = """food oats
    pack          6 bags of 5 lb
    price         12 per case
    weighs        80 g per cup, within 20%
    each weighs   3 g
    contains      none of the nine
    not tcs
    credits       1 oz eq grain per 28 g
    evidence      regulation
    nutrition per 100 g
        sodium    5 mg
food cut oats
    50% of oats by weight
    weighs        90 g per cup
    contains      none of the nine
    ph 4.6, water activity 0.9
    not tcs
    caffeine      3 mg per cup
container bowl
    holds         12 fl oz
    headspace     1/2 fl oz
    price         0.10 each
recipe porridge
    makes         40 portions of 2 oz
    in            bowl
    batch at most 80 portions
    loses         20% in cooking
    keeps         3 d cold
    tested        2026-03-02, 60 portions
    ingredients
        5 lb  oats, discard 10%
        2 lb  cut oats
    steps
        - Stir [7 oz oats] in, then the [rest of oats] and [cut oats].
            cook at 350 F for 18 min
            ccp hold hot at 135 F or above up to 3 h
"""

PLACES = (
    "6 bags", "5 lb\n    price", "12 per case", "80 g", "20%\n", "3 g\n    contains", "1 oz eq", "28 g", "5 mg", "50%", "4.6",
    "0.9", "3 mg", "12 fl oz", "1/2 fl oz", "0.10 each", "40 portions", "2 oz\n", "80 portions", "20% in", "3 d cold",
    "60 portions", "5 lb  oats", "10%", "2 lb", "7 oz oats", "350 F", "18 min", "135 F", "3 h",
)  # fmt: skip

NUMBERS = {
    "nothing": "0",
    "nothing, in quarters": "0/4",
    "less than nothing": "-5",
    "by nothing": "5/0",
    "ten thousand digits": "9" * 10_000,
    "ten thousand places": "0." + "3" * 10_000,
    "a fraction of ten thousand digits": "1/" + "7" * 10_000,
    "as computers write": "1e309",
    "no number": "nan",
    "two points": "1.2.3",
    "a comma": "1,200",
    "a comma in the wrong place": "12,00",
    "money": "$5",
    "a range": "3 to 1",
    "a half of a half": "1/2/2",
    "two halves": "½½",
}
RIGHT = {
    *((number, place) for number in ("nothing", "nothing, in quarters") for place in ("5 mg", "12 per case", "0.10 each")),
    *((number, place) for number in ("nothing", "nothing, in quarters") for place in ("350 F", "135 F")),
    ("less than nothing", "350 F"), ("less than nothing", "135 F"),
}  # fmt: skip
"""A food may have no sodium and cost nothing, and it is cold below zero."""


def planted(place: str, number: str) -> str:
    old = place.split()[0]
    digits = old.rstrip("%")
    return TEXT.replace(place, place.replace(digits, number, 1), 1)


def test_the_text_is_right() -> None:
    assert [one.message for one in Workspace.of({"a.recipe": TEXT}).findings()] == []


@pytest.mark.parametrize(("place", "number"), [one for one in product(PLACES, NUMBERS) if one != ("10%", "no number")])
def test_it_is_told_at_its_line(place: str, number: str) -> None:
    workspace = Workspace.of({"a.recipe": planted(place, NUMBERS[number])})
    found = workspace.findings()
    at = [workspace.range_of(one.place).start.line for one in found if one.severity != "hint"]
    line = TEXT.count("\n", 0, TEXT.index(place)) + 1
    assert at == ([] if (number, place) in RIGHT else [line]), [(one.rule, one.message) for one in found]
    assert all(len(one.message) < 200 for one in found)
    figures(workspace, "porridge")
