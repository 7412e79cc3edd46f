"""A made-up school year of menus over a made-up library: three programs, 36 weeks of five days, six choices a day."""

from __future__ import annotations

import random
from datetime import date, timedelta
from pathlib import Path

WEEKS = 36
FIRST_MONDAY = date(2026, 9, 7)
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday")
_MILKS = """food {fat} half pint
    milk          {fat}, unflavored
    contains      milk
    label read    2026-08-01
    arrives       ready to eat
    tcs
    price         0.30 each
    credits       1 cup milk per each
    evidence      regulation
    nutrition per each
        calories          100
        saturated fat     1 g
        sodium            120 mg
        added sugars      0 g
"""


_PLATE = """food bench plate
    contains      wheat
    label read    2026-08-01
    arrives       ready to eat
    tcs
    price         1.10 each
    whole grain-rich
    credits       2 oz eq grain per each
    credits       2 oz eq meat/meat alternate per each
    credits       1 cup fruit per each
    credits       1/4 cup dark green vegetable per each
    credits       1/4 cup red/orange vegetable per each
    credits       1/4 cup beans peas lentils vegetable per each
    credits       1/4 cup starchy vegetable per each
    credits       1/4 cup other vegetable per each
    evidence      product formulation statement, 2026-03-01
    nutrition per each
        calories          400
        saturated fat     1 g
        sodium            300 mg
        added sugars      0 g
"""
"""So that most days and weeks are in order, as a real year's are."""


def menu(program: str, week: int, recipes: int, rng: random.Random) -> str:
    """One week of one program."""
    groups = "K-8 160, 9-12 80" if program != "snack" else "K-8 240"
    lines = [
        f"menu harbor {program} week {week}",
        f"    program       {program}",
        f"    meals         {groups}",
        "    every day",
        "        choose 1",
        "            serve fat-free half pint, 150",
        "            serve 1% half pint, 90",
        "        end",
        "        serve bench plate, 240",
    ]
    monday = FIRST_MONDAY + timedelta(7 * week)
    for number, day in enumerate(_DAYS):
        lines.append(f"    {day} {(monday + timedelta(number)).isoformat()}")
        for number_of_choice in range(2):
            lines.append(f"        choose {number_of_choice + 1}")
            lines += [
                f"            serve harbor dish {rng.randrange(recipes)}, {80 * (number_of_choice + 1)}"
                for _ in range(3)
            ]
            lines.append("        end")
    return "\n".join(lines) + "\n"


def school_year(folder: Path, recipes: int, seed: int = 11) -> None:
    """Writes the menus of a school year beside a library of so many recipes, a file a week."""
    rng = random.Random(seed)
    sub = folder / "menus"
    sub.mkdir(exist_ok=True)
    milks = [_MILKS.format(fat=fat) for fat in ("fat-free", "1%")]
    (folder / "served.recipe").write_text("\n".join([*milks, _PLATE]), encoding="utf-8")
    (folder / "calendar.recipe").write_text("calendar bench\n    closed 2026-11-26 to 2026-11-27\n", encoding="utf-8")
    for week in range(WEEKS):
        text = "\n".join(menu(program, week, recipes, rng) for program in ("breakfast", "lunch", "snack"))
        (sub / f"week{week:02}.recipe").write_text(text, encoding="utf-8")
