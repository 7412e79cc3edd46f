"""Nutrients as a label declares them: 21 CFR 101.9(c)(1) to (7), at each edge of a band.

The bands were read in the FDA's guide for inspectors, attachment 7; added sugars, vitamin D, calcium and iron are from memory.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipelang.facts.recipe.declared import declared
from recipelang.model.vocabulary import NUTRIENTS


@pytest.mark.parametrize(
    ("name", "exact", "text"),
    [
        ("calories", "4.99", "0"), ("calories", "5", "5"), ("calories", "47.49", "45"), ("calories", "47.5", "50"),
        ("calories", "50", "50"), ("calories", "50.01", "50"), ("calories", "54.99", "50"), ("calories", "55", "60"),
        ("total fat", "0.49", "0 g"), ("total fat", "0.5", "0.5 g"), ("total fat", "4.74", "4.5 g"),
        ("total fat", "4.75", "5 g"), ("total fat", "5.49", "5 g"), ("saturated fat", "5.5", "6 g"),
        ("cholesterol", "1.99", "0 mg"), ("cholesterol", "2", "less than 5 mg"), ("cholesterol", "4.99", "less than 5 mg"),
        ("cholesterol", "7.49", "5 mg"), ("cholesterol", "7.5", "10 mg"),
        ("sodium", "4.99", "0 mg"), ("sodium", "5", "5 mg"), ("sodium", "140", "140 mg"), ("sodium", "142.5", "140 mg"),
        ("sodium", "145", "150 mg"), ("sodium", "137.5", "140 mg"),
        ("carbohydrate", "0.49", "0 g"), ("carbohydrate", "0.5", "less than 1 g"), ("carbohydrate", "1", "1 g"),
        ("dietary fiber", "1.49", "1 g"), ("total sugars", "1.5", "2 g"), ("protein", "0.99", "less than 1 g"),
        ("protein", "9.5", "10 g"), ("calcium", "164.9", "160 mg"), ("iron", "1.65", "1.7 mg"), ("vitamin d", "0.05", "0.1 mcg"),
    ],
)  # fmt: skip
def test_bands(name: str, exact: str, text: str) -> None:
    assert declared(name, NUTRIENTS[name], Fraction(exact)).text == text


def test_a_sum_that_lacks_something_is_a_least_and_never_rounded_up() -> None:
    assert declared("sodium", "mg", Fraction(149), ("salt",)).text == "at least 140 mg"
    assert declared("protein", "g", Fraction(3, 4), ("salt",)).text == "at least 0 g"
