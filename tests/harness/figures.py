"""Figures stated in a text (`//= credits fruit 3/8 cup`) held against those that the code computes.

    //= credits fruit 3/8 cup                     what a portion credits, rounded down
    //= credits fruit exactly 0.4 cup             before rounding
    //= credits fruit at least 1/4 cup            with the alternatives that credit least
    //= credits grain nothing                     or `unknown`, which is never nothing
    //= credits missing graham square             what keeps the credits from being complete
    //= juice 1/2 cup                             how much of the fruit, and of the vegetables, is juice
    //= whole grain-rich yes
    //= allergens milk, wheat                     also `none`
    //= may contain soy
    //= allergens unknown graham square
    //= sodium 120 mg                             any nutrient of a portion; `at least 120 mg`, `unknown`
    //= sodium 120 mg within 10%                  a published figure, held against what is known
    //= process same day                          by trips through the danger zone
    //= cost 0.74                                 of a portion; `at least 0.74`, `unknown`
    //= cost of batch 37
    //= portion 3/4 cup                           or a weight; `portion weight unknown`
    //= batch 12 lb                               or a volume; `batch volume unknown`
    //= filled 8.2 fl oz                          the portion's container; `at least 8.2 fl oz`, `unknown`
    //= filled insert cup 2 1.5 fl oz             one on the side
    //= weight of canned apricots drained 12 lb   an ingredient in the batch; `volume of …`

Amounts are read here and not by the code under test. Credits are compared exactly; what is measured to one part in a
thousand, or to the last decimal that is written.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import Any

import recipelang
from recipelang import Workspace
from tests.harness.markers import figures

GRAMS = {"g": Fraction(1), "kg": Fraction(1000), "oz": Fraction("28.349523125"), "lb": Fraction("453.59237")}
FLUID_OUNCES = {
    "fl oz": Fraction(1), "tsp": Fraction(1, 6), "tbsp": Fraction(1, 2), "cup": Fraction(8), "cups": Fraction(8),
    "pt": Fraction(16), "qt": Fraction(32), "gal": Fraction(128),
}  # fmt: skip
COMPONENTS = {
    "meat/meat alternate": ("meat alternate", None), "grain": ("grain", None), "fruit": ("fruit", None),
    "milk": ("milk", None), "vegetable": ("vegetable", None), "dark green vegetable": ("vegetable", "dark green"),
    "red/orange vegetable": ("vegetable", "red-orange"), "legume vegetable": ("vegetable", "beans peas lentils"),
    "starchy vegetable": ("vegetable", "starchy"), "other vegetable": ("vegetable", "other"),
    "additional vegetable": ("vegetable", "additional"),
}  # fmt: skip

_PART = re.compile(r"(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)\s*(fl oz|[a-z]+)?")
_HEADER = re.compile(r"^(?:recipe|variation)[ \t]+([^/\n]+?)[ \t]*(?://.*)?$", re.IGNORECASE)


def figure_differences(texts: dict[str, str]) -> list[str]:
    """Every stated figure that is not what is computed, with what is; empty when all agree."""
    workspace = Workspace.of(texts)
    told: list[str] = []
    for path, text in texts.items():
        lines = text.split("\n")
        for stated in figures(text):
            name = next(match[1] for line in reversed(lines[: stated.line]) if (match := _HEADER.match(line)))
            problem = _difference(recipelang.figures(workspace, name), stated.text)
            if problem:
                told.append(f"{path}:{stated.line} {name}: stated `{stated.text}`, {problem}")
    return told


def _difference(recipe: dict[str, Any], stated: str) -> str:
    """What is wrong with one stated figure, or an empty text."""
    first, _, rest = stated.partition(" ")
    if first == "credits":
        return _credits(recipe["credits"], rest)
    if first == "juice":
        rows = [row for row in recipe["credits"] if "as_juice" in row and row.get("subgroup") is None]
        return _exact(_sum(Fraction(row["as_juice"]) for row in rows), rest)
    if stated.startswith("whole grain-rich"):
        found = next((row["whole_grain_rich"] for row in recipe["credits"] if row["component"] == "grain"), None)
        return _same({True: "yes", False: "no", None: "unknown"}[found], stated.removeprefix("whole grain-rich "))
    if stated.startswith("may contain"):
        return _same(", ".join(recipe["allergens"]["may_contain"]) or "none", stated.removeprefix("may contain "))
    if stated.startswith("allergens unknown"):
        return _same(", ".join(recipe["allergens"]["unknown"]) or "none", stated.removeprefix("allergens unknown "))
    if first == "allergens":
        return _same(", ".join(recipe["allergens"]["contains"]) or "none", rest)
    if first == "process":
        return _same(recipe["safety"]["computed"], rest)
    if stated.startswith("cost of batch"):
        return _measured(recipe["cost"]["batch"], recipe["cost"]["missing_from"], stated.removeprefix("cost of batch "))
    if first == "cost":
        return _measured(recipe["cost"]["value"], recipe["cost"]["missing_from"], rest)
    if first in ("portion", "batch"):
        figures = recipe["portion" if first == "portion" else "yield"]
        return _mass_or_volume(figures["mass_g"], figures["volume_fl_oz"], figures.get("missing_from", []), rest)
    if first == "filled":
        return _filled(recipe["container"], rest)
    if first in ("weight", "volume"):
        return _ingredient(recipe["ingredients"], first, rest.removeprefix("of "))
    return _nutrient(recipe["nutrients"]["values"], stated)


def _credits(rows: list[dict[str, Any]], words: str) -> str:
    if words.startswith("missing "):
        missing = next((row["missing_from"] for row in rows), [])
        return _same(", ".join(missing) or "none", words.removeprefix("missing "))
    title = next(title for title in sorted(COMPONENTS, key=len, reverse=True) if words.startswith(title))
    name, subgroup = COMPONENTS[title]
    row = next((one for one in rows if one["component"] == name and one.get("subgroup") == subgroup), None)
    wanted = words.removeprefix(title).strip()
    key = "credited"
    if wanted.startswith("exactly "):
        key, wanted = "exact", wanted.removeprefix("exactly ")
    elif wanted.startswith("at least "):
        key, wanted = "credited_least", wanted.removeprefix("at least ")
    if row is not None and row["exact"] is None:
        return "" if wanted == "unknown" else "computed unknown"
    return _exact(Fraction(0) if row is None else Fraction(row.get(key, row["credited"])), wanted)


def _exact(found: Fraction, wanted: str) -> str:
    amount = Fraction(0) if wanted == "nothing" else _number(wanted)
    digits = re.search(r"\.(\d{3,})", wanted)  # a long decimal is a rounded one
    within = Fraction(1, 2 * 10 ** len(digits[1])) if digits else 0
    return "" if abs(found - amount) <= within else f"computed {found}"


def _measured(found: str | None, missing: list[str], wanted: str, factor: Fraction = Fraction(1)) -> str:
    if wanted == "unknown":
        return "" if found is None else f"computed {found}"
    is_least = wanted.startswith("at least ")
    if is_least != bool(missing):
        return f"computed {found}, missing {', '.join(missing) or 'nothing'}"
    return _near(found, _number(wanted.removeprefix("at least ")) * factor, wanted, factor)


def _within(found: str | None, amount: Fraction, part: Fraction) -> str:
    if found is None:
        return "computed unknown"
    off = Fraction(found) / amount - 1
    return "" if abs(off) <= part else f"computed {float(Fraction(found)):g}, off by {float(off):.1%}"


def _near(found: str | None, amount: Fraction, wanted: str, factor: Fraction = Fraction(1)) -> str:
    if found is None:
        return "computed unknown"
    decimals = re.search(r"\.(\d+)", wanted)
    last = Fraction(1, 2 * 10 ** len(decimals[1])) * factor if decimals else Fraction(0)
    if abs(Fraction(found) - amount) <= max(last, amount / 1000, Fraction(1, 1000)):
        return ""
    return f"computed {float(Fraction(found)):g} (stated {float(amount):g})"


def _mass_or_volume(mass: str | None, volume: str | None, missing: list[str], wanted: str) -> str:
    for kind, found in (("weight", mass), ("volume", volume)):
        if wanted == f"{kind} unknown":
            complete = found is not None and not missing
            return f"computed {found}" if complete else ""
    amount, is_mass = _amount(wanted.removeprefix("at least "))
    return _near(mass if is_mass else volume, amount, wanted, _last_factor(wanted))


def _filled(container: dict[str, Any] | None, wanted: str) -> str:
    if container is None:
        return "it is packed in no container"
    for side in container["on_the_side"]:
        if wanted.startswith(side["name"] + " "):
            container, wanted = side, wanted.removeprefix(side["name"] + " ")
    return _measured(container["filled_fl_oz"], container["missing_from"], wanted)


def _ingredient(lines: list[dict[str, Any]], kind: str, words: str) -> str:
    line = next((one for one in lines if words.startswith(one["name"] + " ")), None)
    if line is None:
        return f"the ingredients are {', '.join(one['name'] for one in lines)}"
    wanted = words.removeprefix(line["name"]).strip()
    found = line["mass_g" if kind == "weight" else "volume_fl_oz"]
    if wanted == "unknown":
        return "" if found is None else f"computed {found}"
    return _near(found, _amount(wanted)[0], wanted, _last_factor(wanted))


def _nutrient(values: dict[str, Any], stated: str) -> str:
    title = next((title for title in sorted(values, key=len, reverse=True) if stated.startswith(title + " ")), None)
    if title is None:
        return f"no such figure: {', '.join(values)}"
    found = values[title]
    wanted, _, within = stated.removeprefix(title).strip().partition(" within ")
    unit = found["unit"]
    if not wanted.endswith(unit) and title != "calories" and wanted != "unknown":
        return f"computed in {unit}"
    if within:
        return _within(found["value"], _number(wanted), _number(within) / 100)
    return _measured(found["value"], found["missing_from"], wanted.removesuffix(unit).strip())


def _amount(text: str) -> tuple[Fraction, bool]:
    """An amount in grams or fluid ounces, and whether it is a weight."""
    total, is_mass = Fraction(0), False
    for number, unit in _PART.findall(text):
        is_mass = unit in GRAMS
        total += _number(number) * (GRAMS if is_mass else FLUID_OUNCES)[unit]
    return total, is_mass


def _last_factor(text: str) -> Fraction:
    unit = _PART.findall(text)[-1][1]
    return GRAMS.get(unit) or FLUID_OUNCES[unit]


def _number(text: str) -> Fraction:
    match = _PART.match(text)
    assert match is not None, text
    return _sum(Fraction(part) if "/" in part else Fraction(Decimal(part)) for part in match[1].split(" "))


def _sum(parts: Any) -> Fraction:
    return sum(parts, Fraction(0))


def _same(found: str, wanted: str) -> str:
    return "" if found == wanted else f"computed {found}"
