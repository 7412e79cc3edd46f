"""Every computed figure of recipes and menus as one table (`evaluate --format csv`), a row a figure.

The table says what the JSON document says (it is made of it), in decimals, since a spreadsheet reads `1/2` as a day.
`state` is `known`, `at least` for a lower bound, or `unknown`, whose value is empty and never zero; `missing from` names
what nobody has stated it for.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from recipelang.output.cells import csv_text
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text

HEAD: Final = (
    "name", "kind", "path", "group", "day", "section", "figure", "value", "unit", "per", "state", "missing from", "limit",
    "source",
)  # fmt: skip
KNOWN: Final = "known"
AT_LEAST: Final = "at least"
UNKNOWN: Final = "unknown"


def figures_csv(document: dict[str, Any]) -> str:
    """The table of an `evaluate --format json` document, the cautions of what it shows in the last rows."""
    rows = [row for recipe in document["recipes"] for row in _recipe(recipe)]
    rows += [row for menu in document.get("menus", ()) for row in _menu(menu)]
    cautions = dict.fromkeys(
        recipe[section]["caution"] for recipe in document["recipes"] for section in ("allergens", "safety")
    )
    rows += [_row({}, "caution", "", text) for text in cautions]
    return csv_text(HEAD, ([row.get(column) for column in HEAD] for row in rows))


_Row = dict[str, Any]


def _row(about: _Row, section: str, figure: str, value: Any, unit: str = "", **more: Any) -> _Row:
    missing = more.pop("missing", ())
    state = UNKNOWN if value is None else AT_LEAST if missing else KNOWN
    return {
        **about, "section": section, "figure": figure, "value": value, "unit": unit, "state": state,
        "missing from": "; ".join(missing), **more,
    }  # fmt: skip


def _decimal(exact: str | None) -> str | None:
    """A figure of the document, which may be a fraction, as a decimal."""
    return None if exact is None else decimal_text(Fraction(exact), 4)


# ---- recipes ---------------------------------------------------------------------------------------------------------


def _recipe(recipe: _Row) -> Iterator[_Row]:
    about = {key: recipe[key] for key in ("name", "kind", "path")}
    portion = recipe["portion"]
    for figure in ("number", "course", "based_on"):
        if recipe[figure] is not None:
            yield _row(about, "recipe", figure.replace("_", " "), recipe[figure])
    yield _row(about, "recipe", "portions", _decimal(recipe["portions"]))
    yield _row(about, "recipe", "portion", portion["stated"])
    yield _row(about, "recipe", "portion weight", portion["mass_g"], "g", per="portion")
    yield _row(about, "recipe", "portion volume", portion["volume_fl_oz"], "fl oz", per="portion")
    missing = recipe["yield"]["missing_from"]
    yield _row(about, "recipe", "batch weight", recipe["yield"]["mass_g"], "g", per="batch", missing=missing)
    yield _row(about, "recipe", "batch volume", recipe["yield"]["volume_fl_oz"], "fl oz", per="batch", missing=missing)
    yield from _credits(about, recipe["credits"])
    yield from _allergens(about, recipe["allergens"])
    yield from _nutrients(about, recipe["nutrients"])
    cost = recipe["cost"]
    yield _row(about, "cost", "cost", cost["value"], cost["unit"], per=cost["per"], missing=cost["missing_from"])
    yield from _containers(about, recipe["container"])
    yield from _safety(about, recipe["safety"])
    for at, line in enumerate(recipe["ingredients"], start=1):
        figure = f"{at}. {line['name']}"
        yield _row(about, "ingredients", figure, line.get("kitchen", line["amount"]))
        yield _row(about, "ingredients", figure, line["mass_g"], "g", per="batch")


def _credits(about: _Row, credits: list[_Row]) -> Iterator[_Row]:
    for one in credits:
        figure = one["component"]
        if "subgroup" in one:
            figure += f", {one['subgroup'] or 'all'}"
        missing = one["missing_from"]
        yield _row(about, "credits", figure, _decimal(one["credited"]), one["unit"], per="portion", missing=missing)
        yield _row(
            about,
            "credits before rounding",
            figure,
            _decimal(one["exact"]),
            one["unit"],
            per="portion",
            missing=missing,
        )


def _allergens(about: _Row, allergens: _Row) -> Iterator[_Row]:
    """A row for each allergen, and one for each food whose allergens nobody has stated."""
    for key in ("contains", "may_contain"):
        for name in allergens[key]:
            yield _row(about, "allergens", name, key.replace("_", " "))
    for name in allergens["unknown"]:
        yield _row(about, "allergens", "any of the nine", None, missing=(name,))
    for read in allergens["labels"]["read"]:
        yield _row(about, "labels", read["name"], read["on"])
    for key, words in (("pantry_defaults", "pantry default, no label read"), ("undated", "label read, no day stated")):
        for name in allergens["labels"][key]:
            yield _row(about, "labels", name, words)
    yield _row(about, "allergens", "open errors", allergens["errors"])


def _nutrients(about: _Row, nutrients: _Row) -> Iterator[_Row]:
    for name, found in nutrients["values"].items():
        unit = "" if name == "calories" else found["unit"]
        yield _row(about, "nutrients", name, found["value"], unit, per=nutrients["per"], missing=found["missing_from"])


def _containers(about: _Row, container: _Row | None) -> Iterator[_Row]:
    for one in () if container is None else (container, *container["on_the_side"]):
        for key, figure in (("holds_fl_oz", "holds"), ("room_fl_oz", "room"), ("filled_fl_oz", "filled")):
            missing = one["missing_from"] if figure == "filled" else ()
            yield _row(
                about, "container", f"{one['name']}, {figure}", one[key], "fl oz", per="portion", missing=missing
            )


def _safety(about: _Row, safety: _Row) -> Iterator[_Row]:
    yield _row(about, "safety", "process stated", safety["process"])
    yield _row(about, "safety", "process computed", safety["computed"])
    needs = safety["needs_control"]
    yield _row(
        about, "safety", "needs time or temperature control", None if needs is None else "yes" if needs else "no"
    )
    if safety["keeps"]:
        keeps = safety["keeps"]
        yield _row(about, "safety", f"keeps {keeps['place']}", _decimal(keeps["value"]), keeps["unit"])
    yield _row(about, "safety", "open errors", safety["errors"])


# ---- menus -----------------------------------------------------------------------------------------------------------

_VERDICTS: Final = {True: "met", False: "not met", None: UNKNOWN}


def _menu(menu: _Row) -> Iterator[_Row]:
    for group in menu["groups"]:
        about = {"name": menu["name"], "kind": "menu", "path": menu["path"], "group": _group(group["grades"])}
        for week in group["weeks"]:
            first = (week["starts"] or [""])[0]
            for day in week["days"]:
                on = {**about, "day": day["date"] or day["day"]}
                yield from (_need(on, "day", need) for need in day["needs"])
                for dish in day["served"]:
                    yield _row(on, "served", dish["name"], _decimal(dish["planned"]), "portions")
            of_week = {**about, "day": f"week of {first}" if first else "week"}
            yield from (_need(of_week, "week", need) for need in week["week"])
            for name, found in week["averages"].items():
                yield from _average(of_week, name, found)


def _group(grades: str) -> str:
    """Grades as words: a spreadsheet reads `9-12` as a day in September."""
    return f"grades {grades}" if grades[:1].isdigit() else grades


def _need(about: _Row, section: str, need: _Row) -> _Row:
    row = _row(about, section, need["need"], _decimal(need["least"]), need["unit"], per="meal")
    row["per"] = "meal" if section == "day" else "week"
    limit = f"at least {_decimal(need['needed'])}: {_VERDICTS[need['met']]}"
    return {**row, "state": UNKNOWN if need["met"] is None else KNOWN, "limit": limit, "source": need["source"]}


def _average(about: _Row, name: str, found: _Row) -> Iterator[_Row]:
    unit = "" if name == "calories" else found["unit"]
    limits = [
        f"{word} {found[key]}{mark}"
        for key, word, mark in (
            ("least", "at least", ""),
            ("most", "at most", ""),
            ("percent_below", "below", "% of calories"),
        )
        if key in found
    ]
    limit = f"{', '.join(limits)}: {_VERDICTS[found['met']]}" if limits else ""
    yield _row(
        about, "average meal", name, found["value"], unit, per="meal", missing=found["missing_from"], limit=limit,
        source=found.get("source", ""),
    )  # fmt: skip
