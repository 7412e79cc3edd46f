"""What became of a declaration or a library, commit by commit, for programs: JSON and CSV."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from recipelang.facts.outcome.values import Value
from recipelang.output.cells import csv_text
from recipelang.output.compare_json import cause_json, declaration_json
from recipelang.output.compared_values import unit_of, value_json
from recipelang.output.json_text import json_text
from recipelang.units.fraction import Fraction
from recipelang.versions.conditions import number_of
from recipelang.versions.history import LibraryRow, Row

VERSION = 1
_HEAD = ("date", "commit", "subject", "name", "figure", "unit", "before", "after", "causes")


def history_json(name: str, rows: Iterable[Row], is_cut: bool) -> str:
    """All rows of a declaration."""
    document = {"version": VERSION, "name": name, "commits": [_row(row) for row in rows], "is_cut": is_cut}
    return json_text(document)


def _row(row: Row) -> dict[str, Any]:
    made = row.comparison
    order = [ref for ref, found in made.by_cause.items() if any(one.ref == row.ref for one in found) or ref == row.ref]
    declared = [one for one in made.difference.declarations if one.ref == row.ref]
    effects = [one for one in made.effects if one.ref == row.ref]
    return {
        **_commit(row),
        "name": made.name(row.ref),
        "causes": [{k: v for k, v in cause_json(made, ref, _NO_PLACES).items() if k != "effects"} for ref in order],
        "declaration": declaration_json(made, declared[0], effects, order) if declared else None,
    }


class _NoPlaces(dict[str, int]):
    """Numbers of declarations in a document that does not number them."""

    def __missing__(self, ref: str) -> int:
        return 0


_NO_PLACES = _NoPlaces()


def _commit(row: Row | LibraryRow) -> dict[str, Any]:
    commit = row.commit
    return {"commit": commit.id or None, "date": commit.date or None, "subject": commit.subject}


def library_json(rows: Iterable[LibraryRow], is_cut: bool) -> str:
    """All rows of a library."""
    commits = [{**_commit(row), "edited": row.edited, "others": len(row.others), **_details(row)} for row in rows]
    return json_text({"version": VERSION, "commits": commits, "is_cut": is_cut})


def _details(row: LibraryRow) -> dict[str, Any]:
    if row.comparison is None:
        return {}
    from recipelang.output.compare_json import comparison_document

    found = comparison_document(row.comparison)
    return {"causes": found["causes"], "declarations": found["declarations"]}


def series_json(name: str, figure: str, rows: Iterable[Row], is_cut: bool) -> str:
    """A figure over time."""
    points = [{**_commit(row), "value": value_json(value)} for row, value in _points(rows, figure)]
    units = [unit_of(value) for _, value in _points(rows, figure)]
    document = {
        "version": VERSION, "name": name, "figure": figure, "unit": next(filter(None, units), None), "points": points,
        "is_cut": is_cut,
    }  # fmt: skip
    return json_text(document)


def _points(rows: Iterable[Row], figure: str) -> Iterator[tuple[Row, Value | None]]:
    before: object = rows  # no figure is this
    for row in rows:
        value = None if row.outcome is None else row.outcome.figures.get(figure)
        if value != before:
            yield row, value
        before = value


def series_csv(figure: str, rows: Iterable[Row]) -> str:
    """A figure over time as a table."""
    return csv_text(
        ("date", "commit", "subject", "value", "unit"),
        (
            (row.commit.date, row.commit.id, row.commit.subject, _plain(value), unit_of(value))
            for row, value in _points(rows, figure)
        ),
    )


def history_csv(rows: Iterable[Row]) -> str:
    """All figures that changed, a line each."""
    return csv_text(_HEAD, (cells for row in rows for cells in _changed(row)))


def _changed(row: Row) -> Iterator[tuple[object, ...]]:
    made, commit = row.comparison, row.commit
    for effect in made.effects:
        if effect.ref != row.ref:
            continue
        before, after = _plain(effect.before), _plain(effect.after)
        if effect.finding is not None:
            before, after = ("", effect.finding.message) if effect.came else (effect.finding.message, "")
        causes = "; ".join(dict.fromkeys(made.cause(one.ref).name for one in effect.causes.causes))
        unit = unit_of(effect.after, effect.before)
        yield (commit.date, commit.id, commit.subject, made.name(row.ref), effect.name, unit, before, after, causes)


def _plain(value: Value | None) -> str:
    number = number_of(value)
    if number is not None:
        return _decimal(number)
    shown = value_json(value)
    return "" if shown is None else "; ".join(shown) or "yes" if isinstance(shown, list) else str(shown)


def _decimal(number: Fraction) -> str:
    from recipelang.units.numbers import decimal_text

    return decimal_text(number, 4)
