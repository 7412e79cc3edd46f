"""What can't be made without something, for people and for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from recipelang.findings.wording import counted, listed, shortlist
from recipelang.text.visible import visible
from recipelang.versions.out_of_stock import OPTIONAL, OR, Cover, Served, Touched

_MOST_SERVED = 6


def without_lines(names: list[str], found: list[Touched], by_itself: list[Served]) -> list[str]:
    """The whole report but for what the covers do to menus."""
    lost = [one for one in found if one.is_lost]
    covered = [one for one in found if not one.is_lost]
    lines = [f"without {listed(names)}: {without_title(found)}"]
    if by_itself:
        lines += ["", f"served by itself: {_served(by_itself)}"]
    if lost:
        lines += ["", "can't be made"]
        lines += [line for one in lost for line in _dish(one, "")]
    if covered:
        lines += ["", "another way"]
        lines += [line for one in sorted(covered, key=_brings) for line in _dish(one, _way(one.covers))]
    return list(map(visible, lines))


def without_title(found: list[Touched]) -> str:
    """How many dishes can't be made, and how many another way."""
    if not found:
        return "every dish can be made"
    lost = sum(one.is_lost for one in found)
    return f"{counted(lost, 'dish', 'dishes')} can't be made, {len(found) - lost} another way"


def _brings(one: Touched) -> tuple[bool, str]:
    """What brings an allergen is said first."""
    return (not any(cover.gains for cover in one.covers), one.ref)


def _dish(one: Touched, way: str) -> Iterator[str]:
    through = f"  through {' › '.join(one.through[:-1])}" if len(one.through) > 1 else ""
    yield f"  {one.name}{': ' + way if way else ''}{through}"
    if one.served:
        yield f"    {_served(one.served)}"


def _served(served: Iterable[Served]) -> str:
    told = [
        f"{one.menu}, {one.day}" + (f" {one.planned}" if one.planned else "")
        + ("" if one.others is None else f" ({counted(one.others, 'other choice') if one.others else 'no other choice'})")
        for one in served
    ]  # fmt: skip
    return (
        "; ".join(told)
        if len(told) <= _MOST_SERVED
        else f"{'; '.join(told[: _MOST_SERVED - 1])}; {len(told) - _MOST_SERVED + 1} more"
    )


def _way(covers: Iterable[Cover]) -> str:
    said: list[str] = []
    for one in covers:
        gains = f" (gains {listed(one.gains)})" if one.gains else ""
        if one.kind == OPTIONAL:
            said.append(f"without {one.name}, which is optional")
        else:
            said.append(f"{'with' if one.kind == OR else 'as'} {one.name}{gains}")
    return shortlist(said, 4) if len(said) > 1 else said[0]


def without_json(found: list[Touched], by_itself: list[Served]) -> dict[str, Any]:
    """What a document of a comparison holds besides."""
    return {
        "without": [
            {
                "name": one.name, "state": "lost" if one.is_lost else "covered", "through": list(one.through),
                "by": [{"kind": cover.kind, "name": cover.name, "gains": list(cover.gains)} for cover in one.covers],
                "menus": [_served_json(served) for served in one.served],
            }
            for one in found
        ],
        "served_by_itself": [_served_json(served) for served in by_itself],
    }  # fmt: skip


def _served_json(served: Served) -> dict[str, Any]:
    return {"name": served.menu, "day": served.day, "planned": served.planned or None, "other_choices": served.others}
