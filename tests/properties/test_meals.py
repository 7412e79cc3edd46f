"""Menus: totals are those of all choices gone through, more food never takes a component away, a looser limit never
breaks what a stricter one kept, and nothing hangs on the order in which days are written or edits are made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from itertools import combinations, product
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipelang.facts.menu.meals import meals_of
from recipelang.facts.menu.offer import least, most, need_of
from recipelang.facts.menu.snack import components_met
from recipelang.findings.finding import Finding
from recipelang.rules.catalogue import module_names
from recipelang.standards import load
from recipelang.workspace.check import check_paths
from recipelang.workspace.workspace import Workspace
from tests.properties.menus import FOODS, DrawnMenu, Slot, drawn_menus, foods, slots

AREAS = {stem.replace("_", "-") for area, stem in module_names() if area in ("meals", "sale")}
COMPONENTS = ("fruit", "vegetable", "grain", "meat alternate", "milk")
REF = "menu:drawn"


def opened(menu: DrawnMenu, text: str = "") -> Workspace:
    return Workspace.of({"library.recipe": foods() + (text or menu.text())})


def found_in(workspace: Workspace) -> list[Finding]:
    return [one for one in workspace.findings() if one.rule in AREAS]


def meals_in(workspace: Workspace) -> Any:
    return meals_of(workspace.facts, REF)


def every_tray(day: tuple[Slot, ...]) -> Iterator[list[str]]:
    """All that a student can end with on a day, one choice after the other."""
    ways = [[slot.names] if slot.number is None else list(combinations(slot.names, slot.number)) for slot in day]
    for taken in product(*ways):
        yield [name for names in taken for name in names]


def credited(tray: list[str], component: str) -> Fraction:
    return sum((FOODS[name][1].get(component, Fraction(0)) for name in tray), Fraction(0))


# ---- a day -----------------------------------------------------------------------------------------------------------


@given(drawn_menus)
def test_the_least_and_the_most_are_those_of_all_choices(menu: DrawnMenu) -> None:
    """Gone through one by one, what a sum over slots says at once."""
    for group in meals_in(opened(menu)):
        for meal, (_, own) in zip(group.weeks[0].days, menu.days, strict=True):
            trays = list(every_tray(menu.every + own))
            for component in COMPONENTS:
                amounts = [credited(tray, component) for tray in trays]
                assert least(meal.offer, need_of(component)) == min(amounts)
                assert most(meal.offer, need_of(component)) == max(amounts)


@given(drawn_menus, st.integers(1, 3))
def test_the_components_of_a_snack_are_those_of_the_poorest_tray(menu: DrawnMenu, limit: int) -> None:
    """A component counts when it is full; of those that only drinks fill, at most so many."""
    wanted = {
        "milk": Fraction(1), "meat alternate": Fraction(1), "vegetable": Fraction(3, 4), "fruit": Fraction(3, 4),
        "grain": Fraction(1),
    }  # fmt: skip
    for group in meals_in(opened(menu)):
        for meal, (_, own) in zip(group.weeks[0].days, menu.days, strict=True):
            counts = [_components(tray, wanted, limit) for tray in every_tray(menu.every + own)]
            assert components_met(meal.offer, wanted, limit) == min(counts)


def _components(tray: list[str], wanted: dict[str, Fraction], limit: int) -> int:
    eaten = [name for name in tray if not FOODS[name][2]]
    full = {component for component, amount in wanted.items() if credited(tray, component) >= amount}
    solid = {component for component, amount in wanted.items() if credited(eaten, component) >= amount}
    return len(solid) + min(len(full - solid), limit)


@given(drawn_menus, slots.filter(lambda slot: slot.number is None), st.integers(0, 4))
def test_more_food_for_everybody_never_takes_a_component_away(menu: DrawnMenu, extra: Slot, at: int) -> None:
    """A line outside every choice can only add: no day, and no week, holds less of anything."""
    chosen = at % len(menu.days)
    day, own = menu.days[chosen]
    more = menu._replace(days=(*menu.days[:chosen], (day, (*own, extra)), *menu.days[chosen + 1 :]))
    for before, after in zip(meals_in(opened(menu)), meals_in(opened(more)), strict=True):
        for week, other in zip(before.weeks, after.weeks, strict=True):
            for meal, same in zip(week.days, other.days, strict=True):
                for met, now in zip(meal.needs, same.needs, strict=True):
                    assert now.found >= met.found
                assert meal.met is None or same.met >= meal.met
            for met, now in zip(week.needs, other.needs, strict=True):
                assert now.found >= met.found


# ---- limits ----------------------------------------------------------------------------------------------------------


@contextmanager
def figures_let_out(share: Fraction) -> Iterator[None]:
    """The figures in force, each let out by a share."""
    strict = load.figures()
    caches = (load._index, load._figure, load._rows_of, load.changes, load.regime)
    loose = tuple(_let_out(one, share) for one in strict)
    try:
        with patch.object(load, "figures", lambda: loose):
            for cache in caches:
                cache.cache_clear()
            yield
    finally:
        for cache in caches:
            cache.cache_clear()


def _let_out(one: load.Figure, share: Fraction) -> load.Figure:
    try:
        value = one.value
    except ValueError:
        return one
    is_cap = one.what.endswith((" most", " below", "juice percent")) or one.what.startswith("product ")
    return one._replace(text=str(value * (1 + share) if is_cap else value * (1 - share)))


@given(drawn_menus, st.fractions(Fraction(1, 100), Fraction(9, 10)))
def test_a_looser_limit_never_adds_a_finding(menu: DrawnMenu, share: Fraction) -> None:
    """All figures are let out: what was kept is kept. (A week's shortage may come out from behind a day's, so of days
    and weeks the shortages themselves are compared.)"""
    strict = opened(menu)
    told_before, short_before = _places(strict), _shortages(strict)
    with figures_let_out(share):
        loose = opened(menu)
        assert _places(loose) <= told_before
        assert _shortages(loose) <= short_before


def _places(workspace: Workspace) -> set[tuple[str, Any]]:
    return {(one.rule, one.place) for one in found_in(workspace) if one.rule not in _TURN_INTO_EACH_OTHER}


_TURN_INTO_EACH_OTHER = {
    "weekly-component-short", "missing-component", "short-component", "average-unknown", "vegetables-for-fruit",
}  # fmt: skip
"""One tells of what another hides, or words it otherwise; their shortages are compared instead. On which days vegetables
stand for fruit hangs on how much fruit is due, so a day less may leave one subgroup where there were two."""


def _shortages(workspace: Workspace) -> set[tuple[Any, ...]]:
    found: set[tuple[Any, ...]] = set()
    for group in meals_in(workspace):
        for week in group.weeks:
            found |= {(met.name,) for met in week.needs if met.is_short}
            found |= {(meal.day.start, met.name) for meal in week.days for met in meal.needs if met.is_short}
    return found


# ---- order and edits -------------------------------------------------------------------------------------------------


@given(drawn_menus, st.randoms(use_true_random=False))
def test_findings_do_not_hang_on_the_order_of_days(menu: DrawnMenu, random: Any) -> None:
    order = list(range(len(menu.days) + 1))
    random.shuffle(order)
    written = Counter((one.rule, one.severity, one.message) for one in found_in(opened(menu)))
    shuffled = opened(menu, menu.text(tuple(order)))
    assert Counter((one.rule, one.severity, one.message) for one in found_in(shuffled)) == written


LUNCH = """menu harbor lunch
    program lunch
    meals 9-12 120
    {day}
        serve bean bowl, 120
"""
STORE = """menu pier store
    program a la carte
    meals 9-12 120
    tuesday 2026-10-13
        sell bean bowl, 20, at 2.50
"""
BOWL = """food bean mix
    weighs 240 g per cup
    credits 1 oz eq meat/meat alternate per 1/2 cup
    nutrition per cup
        calories {calories}
        total fat 10 g
        saturated fat 2 g
        sodium 400 mg
        total sugars 4 g
recipe bean bowl
    course entree
    makes 50 portions of 1 cup
    credits 2 oz eq meat/meat alternate
    ingredients per portion
        1 cup bean mix
"""
PIECES: dict[str, tuple[str, ...]] = {
    "foods.recipe": (BOWL.format(calories=500), BOWL.format(calories=340)),
    "lunch.recipe": (
        "", LUNCH.format(day="monday 2026-10-12"), LUNCH.format(day="friday 2026-10-09"),
        LUNCH.format(day="monday"), LUNCH.format(day="monday 2026-10-12").replace("program lunch", "program supper"),
    ),
    "store.recipe": ("", STORE, STORE.replace("tuesday 2026-10-13", "tuesday")),
    "calendar.recipe": ("", "calendar brindle cove\n    closed 2026-10-12\n", "calendar brindle cove\n    closed 2026-10-13\n"),
}  # fmt: skip
"""A store whose entree is free or not by what other menus and calendars say."""

edits = st.lists(
    st.sampled_from(sorted(PIECES)).flatmap(lambda path: st.tuples(st.just(path), st.sampled_from(PIECES[path]))),
    min_size=1, max_size=8,
)  # fmt: skip


def told(workspace: Workspace) -> list[tuple[str, str, str]]:
    return [(one.rule, one.place.home.path, one.message) for one in workspace.findings()]


@given(edits)
def test_edits_of_other_menus_and_calendars_give_what_a_fresh_check_gives(steps: list[tuple[str, str]]) -> None:
    """What a store may sell hangs on every menu and calendar of the library, also on those that come and go."""
    texts = {path: choices[0] for path, choices in PIECES.items()}
    kept = Workspace.of(texts)
    for path, text in steps:
        texts[path] = text
        kept.set_text(path, text)
        assert told(kept) == told(Workspace.of(texts))


@settings(max_examples=8)  # each writes files and checks them twice
@given(edits)
def test_what_is_remembered_gives_what_a_fresh_check_gives(
    tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str]]
) -> None:
    """The same through files and the store of findings, `check` after `check`."""
    folder = tmp_path_factory.mktemp("library")
    (folder / "recipelang.toml").write_text('[library]\nname = "drawn"\n', encoding="utf-8")
    for path, choices in PIECES.items():
        (folder / path).write_text(choices[0], encoding="utf-8")
    check_paths([folder])
    for path, text in steps:
        (folder / path).write_text(text, encoding="utf-8")
        assert _messages(folder, use_cache=True) == _messages(folder, use_cache=False)


def _messages(folder: Path, use_cache: bool) -> list[tuple[str, str]]:
    return [(one.finding.rule, one.finding.message) for one in check_paths([folder], use_cache=use_cache).told]
