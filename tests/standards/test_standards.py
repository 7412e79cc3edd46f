"""The stored figures are those that the sources print, every one of them and no other, and the regulation's own
arithmetic holds among them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

import pytest

from recipelang.findings.finding import ERROR, WARNING
from recipelang.standards.load import (
    DERIVED,
    FIRST_DAY,
    MARKS,
    MEMORY,
    WEEK_LENGTHS,
    Limit,
    changes,
    figure,
    figures,
    in_school_year,
    regime,
    rows,
    school_year_of,
    year_end,
)
from tests.standards.printed import PRINTED, Printed

Key = tuple[str, str, str, int, date, date | None]
_CELL = re.compile(r"(?P<week>[\d.]+)(?:\s*\((?P<day>[\d.]+)\))?")
DAY = date(2026, 9, 14)


def _typed(table: Printed) -> Iterator[tuple[Key, str, str]]:
    """The figures of a printed table: what each is, its value, its mark."""
    lines = [line for line in table.text.strip("\n").split("\n") if line.strip()]
    groups = [cell.strip() for cell in lines[0].split("|")[1:]]
    kind = table.kind.removesuffix(" (daily)")
    for line in lines[1:]:
        name, *cells = (cell.strip() for cell in line.split("|"))
        for group, cell in zip(groups, cells, strict=True):
            for program in table.programs:
                dates = (table.since, table.until)
                match = _CELL.fullmatch(cell) if table.kind.endswith("(daily)") else None
                if match is None:
                    yield (program, group, f"{kind} {name}", table.days, *dates), cell, table.mark
                    continue
                yield (program, group, f"weekly {name}", table.days, *dates), match["week"], table.mark
                if match["day"]:
                    yield (program, group, f"daily {name}", 0, *dates), match["day"], table.mark


def _value(text: str) -> Fraction | str:
    """A figure's value: milk that is printed in fluid ounces is stored in cups."""
    if text.endswith(" fl oz"):
        return Fraction(text.removesuffix(" fl oz")) / 8
    try:
        return Fraction(text)
    except ValueError:
        return text


def _key(one: Limit) -> Key:
    return (one.program, one.group, one.what, one.days, one.since, one.until)


TYPED = {key: (_value(text), mark) for table in PRINTED for key, text, mark in _typed(table)}
STORED = {_key(one): (_value(one.text), one.mark) for one in figures()}


def test_no_figure_is_stored_twice() -> None:
    assert len(STORED) == len(figures())


def test_every_stored_figure_is_printed_and_every_printed_one_stored() -> None:
    assert STORED.keys() - TYPED.keys() == set()
    assert TYPED.keys() - STORED.keys() == set()


@pytest.mark.parametrize("program", sorted({one.program for one in figures()}))
def test_stored_figures_are_those_printed(program: str) -> None:
    """Value and mark of each, against a second typing from the sources named in `printed.py`."""
    differ = {key: (STORED[key], TYPED[key]) for key in STORED if key[0] == program and STORED[key] != TYPED[key]}
    assert differ == {}


def test_every_figure_has_a_source_and_a_mark() -> None:
    for one in figures():
        assert one.mark in MARKS
        assert re.search(r"7 CFR \d{3}|Act of 2025|USDA guidance", one.source), one
        assert ("memory" in one.source) == (one.mark == MEMORY), one
        assert one.until is None or one.until > one.since


def test_a_figure_from_memory_warns_and_any_other_fails() -> None:
    for one in figures():
        assert one.severity == (WARNING if one.mark == MEMORY else ERROR)


# ---- the regulation's own arithmetic ---------------------------------------------------------------------------------

LUNCH_GROUPS = ("K-5", "6-8", "9-12", "K-8")
BREAKFAST_GROUPS = ("K-5", "6-8", "9-12", "K-8", "6-12", "K-12")
SUBGROUPS = ("dark green", "red-orange", "beans peas lentils", "starchy", "other", "additional")


def _weekly(program: str, group: str, what: str, days: int) -> Fraction:
    found = figure(program, group, f"weekly {what}", DAY, days)
    assert found is not None
    return found.value


@pytest.mark.parametrize("group", LUNCH_GROUPS)
@pytest.mark.parametrize("days", WEEK_LENGTHS)
def test_subgroups_and_additional_make_the_total(group: str, days: int) -> None:
    """7 CFR 210.10(c): the subgroups and `additional` are the week's vegetables."""
    parts = sum((_weekly("lunch", group, one, days) for one in SUBGROUPS), Fraction(0))
    assert parts == _weekly("lunch", group, "vegetable", days)


@pytest.mark.parametrize("days", WEEK_LENGTHS)
def test_a_week_is_a_fifth_longer_or_shorter_for_each_day(days: int) -> None:
    """Grains and meats/meat alternates to the nearest half ounce equivalent, all else exactly."""
    for program, groups, names in (
        ("lunch", LUNCH_GROUPS, ("fruit", "vegetable", "milk", "grain", "meat alternate")),
        ("breakfast", BREAKFAST_GROUPS, ("fruit or vegetable", "milk", "grain or meat alternate")),
    ):
        for group in groups:
            for name in names:
                exact = _weekly(program, group, name, 5) * days / 5
                if name in ("grain", "meat alternate", "grain or meat alternate"):
                    exact = Fraction((exact * 2 + Fraction(1, 2)).__floor__(), 2)
                assert _weekly(program, group, name, days) == exact, (program, group, name)


@pytest.mark.parametrize("days", WEEK_LENGTHS)
def test_a_day_s_least_served_every_day_never_passes_the_week_s(days: int) -> None:
    """A week's least is at least the sum of its days' least, so a short day is never made good by rounding."""
    for program, groups in (("lunch", LUNCH_GROUPS), ("breakfast", BREAKFAST_GROUPS)):
        for group in groups:
            for name, daily in rows(program, group, "daily", DAY).items():
                assert _weekly(program, group, name, days) >= daily.value * days


JOINED = {"K-8": ("K-5", "6-8"), "6-12": ("6-8", "9-12"), "K-12": ("K-5", "6-8", "9-12")}


@pytest.mark.parametrize(("program", "joined"), [("lunch", "K-8"), *(("breakfast", one) for one in JOINED)])
@pytest.mark.parametrize("on", [DAY, date(2027, 9, 13)])
def test_a_combined_group_is_the_overlap_of_its_groups(program: str, joined: str, on: date) -> None:
    """Every least is the highest of the groups that are joined, every limit the lowest."""
    for kind, days in (("daily", 0), *(("weekly", days) for days in WEEK_LENGTHS), ("average", 0)):
        for name, one in rows(program, joined, kind, on, days).items():
            members = [figure(program, group, f"{kind} {name}", on, days) for group in JOINED[joined]]
            values = [member.value for member in members if member is not None]
            assert len(values) == len(JOINED[joined])
            is_limit = name.endswith((" most", " below"))
            assert one.value == (min(values) if is_limit else max(values)), (kind, name, days)


def test_no_amount_of_calories_suits_two_groups_of_lunch_that_are_not_joined() -> None:
    """That is why grades 6-12 and K-12 can't be one group at lunch."""
    high = figure("lunch", "9-12", "average calories least", DAY)
    middle = figure("lunch", "6-8", "average calories most", DAY)
    assert high is not None
    assert middle is not None
    assert middle.value < high.value
    assert figure("lunch", "6-12", "daily fruit", DAY) is None


def test_what_is_declined_and_what_is_taken_make_what_is_offered() -> None:
    tables = {(one.program, one.group) for one in figures() if one.what.startswith("offer versus serve ")}
    assert len(tables) == 13
    for program, group in tables:
        found = rows(program, group, "offer versus serve", DAY)
        noun = "items" if "items taken least" in found else "components"
        offered, declined, taken = (
            found[f"{noun} {words}"] for words in ("offered least", "declined most", "taken least")
        )
        assert offered.value - declined.value == taken.value
        assert taken.mark == DERIVED


# ---- dates -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("program", "group", "what", "first_day", "before", "after"),
    [
        ("lunch", "9-12", "average sodium most", date(2027, 7, 1), "1280", "1080"),
        ("breakfast", "K-5", "average sodium most", date(2027, 7, 1), "540", "485"),
        ("lunch", "K-5", "average added sugars below", date(2027, 7, 1), None, "10"),
        ("lunch", "K-5", "milk unflavored", date(2026, 1, 14), "fat-free, 1%", "fat-free, 1%, 2%, whole"),
        ("lunch", "all", "product added sugars of cereal per ounce", date(2025, 7, 1), None, "6"),
        ("child care lunch", "ages 3-5", "product added sugars of yogurt per 6 ounces", date(2025, 10, 1), None, "12"),
        ("child care lunch", "ages 3-5", "product total sugars of yogurt per 6 ounces", date(2025, 10, 1), "23", None),
        ("snack", "K-12", "daily fruit", date(2025, 7, 1), None, "3/4"),
    ],
)  # fmt: skip
def test_a_figure_changes_on_its_first_day(
    program: str, group: str, what: str, first_day: date, before: str | None, after: str | None
) -> None:
    """The day before, the old figure holds; on the day, the new one."""
    eve = figure(program, group, what, date.fromordinal(first_day.toordinal() - 1))
    found = figure(program, group, what, first_day)
    assert (eve.text if eve else None) == before
    assert (found.text if found else None) == after


def test_nothing_is_known_before_the_first_day() -> None:
    eve = date.fromordinal(FIRST_DAY.toordinal() - 1)
    assert all(figure(one.program, one.group, one.what, eve, one.days) is None for one in figures())
    assert regime(eve) == -1
    assert changes()[0] == FIRST_DAY
    assert regime(FIRST_DAY) == 0


def test_every_end_of_a_figure_is_a_day_on_which_the_rules_change() -> None:
    """So a regime, which counts beginnings, also sees every end."""
    for one in figures():
        if one.until is not None:
            assert date.fromordinal(one.until.toordinal() + 1) in changes()


def test_a_day_keeps_its_place_in_another_school_year() -> None:
    assert in_school_year(date(2026, 9, 14), "2027-28") == date(2027, 9, 14)
    assert in_school_year(date(2027, 3, 1), "2025-26") == date(2026, 3, 1)
    assert in_school_year(date(2028, 2, 29), "2026-27") == date(2027, 2, 28)
    assert year_end("2026-27") == date(2027, 6, 30)
    assert school_year_of(date(2027, 6, 30)) == "2026-27"
    assert school_year_of(date(2027, 7, 1)) == "2027-28"
