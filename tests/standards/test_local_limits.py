"""Local figures for food safety: stricter ones hold, looser ones are refused, and the adopted edition decides."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipelang.standards.food_code import EDITIONS, Limit, Limits, limits, local_limits
from recipelang.workspace.config import Config
from tests.harness.checking import check

STRICTER = {
    "hot-hold": ("135 F", "136 F", "134.9 F"),
    "cold-hold": ("41 F", "40 F", "41.1 F"),
    "reheat": ("165 F", "170 F", "164 F"),
    "cooling": ("6 h", "5.5 h", "6.1 h"),
    "time-control": ("4 h", "3 h", "5 h"),
    "date-mark": ("7 d", "5 d", "8 d"),
}


def values(limits: Limits) -> list[Fraction]:
    """The figures, whoever set them."""
    return [one.value for one in limits if isinstance(one, Limit)]


@pytest.mark.parametrize("key", STRICTER)
def test_stricter_holds_and_looser_is_refused(key: str) -> None:
    same, stricter, looser = STRICTER[key]
    usual = local_limits([]).limits
    assert values(local_limits([(key, same)]).limits) == values(usual)
    assert local_limits([(key, same)]).problems == ()
    tightened = local_limits([(key, stricter)])
    assert values(tightened.limits) != values(usual)
    assert tightened.problems == ()
    refused = local_limits([(key, looser)])
    assert refused.limits == usual
    (problem,) = refused.problems
    assert looser in problem.what
    assert "Food Code" in problem.what


def test_a_refused_figure_names_the_section_alone() -> None:
    (problem,) = local_limits([("date-mark", "8 d")]).problems
    assert problem.what == "`8 d` is looser than FDA Food Code 3-501.17 allows"


@pytest.mark.parametrize("written", ["1999", "2005", "2023", "22", "", "²022", "2022 ", "9" * 5000])
def test_an_edition_whose_figures_are_not_kept_is_refused(written: str) -> None:
    """Editions before 2001 held hot food at 140 F, so an unknown one is never taken for a known one."""
    (problem,) = local_limits([("food-code", written)]).problems
    assert "2009, 2013, 2017 or 2022" in problem.help


def test_every_edition_has_its_figures() -> None:
    """FDA Food Code 3-501.16, 3-501.17, 3-501.19, 3-403.11: the same in the editions of 2009 to 2022."""
    for edition in EDITIONS:
        found = limits(edition)
        assert (found.cold_hold.value, found.hot_hold.value, found.reheat.value) == (41, 135, 165)
        assert (found.time_control.value, found.date_mark.value) == (4 * 3600, 7)


def test_the_edition_decides_how_long_ground_meat_is_held() -> None:
    """FDA Food Code 3-401.11(A)(2): 155 F for 15 seconds through 2013, for 17 seconds since 2017."""
    for edition, seconds in ((2013, 15), (2017, 17), (2022, 17)):
        cooking = local_limits([("food-code", str(edition))]).limits.cooking_of("raw ground meat")
        assert cooking is not None
        assert (cooking.fahrenheit, cooking.seconds) == (155, seconds)
        assert cooking.is_met(Fraction(155), Fraction(seconds))
        assert not cooking.is_met(Fraction(155), Fraction(seconds - 1))
        assert not cooking.is_met(Fraction(1549, 10), Fraction(seconds))


HELD = """
food boiled eggs
    tcs
    arrives ready to eat
recipe egg cup
    course entree
    makes 50 portions of 2 oz
    process no cook
    ingredients
        6 lb 4 oz boiled eggs
    steps
        - Portion the [boiled eggs].
            hold cold at 41 F or below up to 5 d
"""


def rules(*settings: tuple[str, str]) -> list[str]:
    return [one.finding.rule for one in check(HELD, None, Config(safety=settings)) if one.finding.severity == "error"]


def test_a_stricter_figure_reaches_the_findings() -> None:
    assert rules() == []
    assert rules(("cold-hold", "41 F")) == []
    assert "unsafe-hold" in rules(("cold-hold", "40 F"))
    assert rules(("date-mark", "5 d")) == []
    assert "hold-too-long" in rules(("date-mark", "4 d"))


def test_figures_are_exact() -> None:
    assert local_limits([("cold-hold", "40.1 F")]).limits.cold_hold.value == Fraction(401, 10)
