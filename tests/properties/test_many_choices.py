"""A menu with many choices is judged in full, in a time that grows with its lines and not with the ways to choose.

Time is counted in calls of functions, which no other load on the machine disturbs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import pytest

from tests.harness.checking import check


def snack(choices: list[tuple[int, int]]) -> str:
    """A snack of choices, each of so many lines out of so many. Every food has an eighth of a cup of fruit, and a quarter
    ounce equivalent of grain or of meat alternate in turn; no two are alike."""
    foods: list[str] = []
    lines: list[str] = []
    for slot, (number, options) in enumerate(choices):
        lines.append(f"        choose {number}")
        for at in range(options):
            name = f"food {chr(97 + slot)}{chr(97 + at)}"
            foods.append(f"food {name}\n    credits 1/8 cup fruit per each\n")
            foods.append(f"    credits 1/4 oz eq {('grain', 'meat/meat alternate')[at % 2]} per each\n")
            lines.append(f"            serve {name}, 20")
        lines.append("        end")
    return "".join(foods) + "\n".join(["menu many", "    program snack", "    meals K-12 20", "    monday", *lines, ""])


def calls(work: Callable[[], Any]) -> int:
    """How many functions are called."""
    count = 0

    def counting(frame: object, event: str, argument: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(counting)
    try:
        work()
    finally:
        sys.setprofile(None)
    return count


def judged(choices: list[tuple[int, int]]) -> list[str]:
    return [one.finding.rule for one in check(snack(choices), {"short-snack"})]


@pytest.mark.parametrize(
    ("choices", "found"),
    [
        ([(7, 24)], []), ([(6, 24)], ["short-snack"]), ([(12, 24)], []),
        ([(1, 3)] * 7, []), ([(1, 3)] * 6, ["short-snack"]), ([(1, 3)] * 9, []),
        ([(2, 6)] * 4, []), ([(2, 6)] * 3, ["short-snack"]),
    ],
)  # fmt: skip
def test_every_choice_of_a_snack_is_judged(choices: list[tuple[int, int]], found: list[str]) -> None:
    """Six foods hold 3/4 cup of fruit, and three quarters of an ounce equivalent of each of the others; of seven, four
    are alike. `choose 12` of 24 has 2.7 million ways, and is judged as any other."""
    assert judged(choices) == found


def test_half_of_twice_as_many_lines_is_no_square_of_the_work() -> None:
    """The ways to choose grow from 924 to 2.7 million."""
    judged([(1, 2)])
    few = calls(lambda: judged([(6, 12)]))
    assert calls(lambda: judged([(12, 24)])) < 3 * few
