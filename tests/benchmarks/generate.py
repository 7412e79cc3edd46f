"""A made-up library of any size, the same for the same seed: foods, containers, and recipes of forty lines.

The recipes read like real ones: eleven ingredients with weights and measures, six steps with references and typed
lines, claims that hold. The same content can be written as YAML, for a comparison with a linter of that format.
"""

from __future__ import annotations

import random
from fractions import Fraction
from pathlib import Path

FOODS = 100
_KINDS = ("diced", "sliced", "roasted", "chilled", "frozen", "whipped", "dried", "baby", "smoked", "rinsed")
_THINGS = ("apricots", "pears", "carrots", "beans", "ricotta", "oats", "peaches", "squash", "chickpeas", "barley")
_CREDITS = (
    "credits       1/4 cup fruit per 1/4 cup",
    "credits       1/4 cup fruit per 1/4 cup",
    "credits       1/4 cup red/orange vegetable per 1/4 cup",
    "credits       1/4 cup beans peas lentils vegetable per 1/4 cup",
    "credits       1 oz eq meat/meat alternate per 2 oz",
    "grain group   H",
    "credits       1/4 cup fruit per 1/4 cup",
    "credits       1/4 cup red/orange vegetable per 1/4 cup",
    "credits       1 oz eq meat/meat alternate per 1/4 cup",
    "grain group   H",
)


def food_name(number: int) -> str:
    return f"{_KINDS[number % 10]} {_THINGS[number // 10 % 10]}"


def food(number: int) -> str:
    """A food of a score of lines."""
    grams = 110 + number
    fat, carbohydrate, protein = number % 7 + 0.5, number % 20, number % 11
    calories = round(9 * fat + 4 * (carbohydrate + protein))
    return f"""food {food_name(number)}
    pack          6 #10 cans
    price         {20 + number}.50 per case
    weighs        {grams} g per cup
    weighs        106 oz per #10 can
    label read    2026-08-01
    contains      {"milk" if "ricotta" in food_name(number) else "none of the nine"}
    arrives       {"ready to eat" if number % 2 else "cooked"}
    {"tcs" if number % 2 else "not tcs, ph 3.5"}
    {_CREDITS[number // 10 % 10]}
    evidence      yield table
    nutrition per 100 g
        calories          {calories}
        total fat         {fat} g
        saturated fat     {min(fat, number % 3 + 0.5)} g
        sodium            {number % 90} mg
        carbohydrate      {carbohydrate} g
        total sugars      {min(carbohydrate, number % 9)} g
        added sugars      0 g
        protein           {protein} g
"""


def recipe(number: int, rng: random.Random) -> str:
    """A recipe of forty lines."""
    chosen = rng.sample(range(FOODS), 11)
    names = [food_name(one) for one in chosen]
    ingredients: list[str] = []
    credited: dict[str, Fraction] = {}
    for index, (one, name) in enumerate(zip(chosen, names, strict=True)):
        pounds = rng.randint(1, 2)
        if index < 4:
            quarters = round(pounds * 453.59237 / (110 + one) * 4)
            cups = Fraction(quarters, 4)
            ingredients.append(f"        {pounds} lb = {_measure(cups)}      {name}, drained")
        else:
            ounces = rng.randint(1, 15)
            cups = Fraction(16 * pounds + ounces) * Fraction(45359237, 1600000) / (110 + one)
            ingredients.append(f"        {pounds} lb {ounces} oz            {name}, cut small")
        for component in ("fruit", "red/orange vegetable"):
            if f" cup {component} per" in _CREDITS[one // 10 % 10]:
                credited[component] = credited.get(component, Fraction(0)) + cups
    claims = [
        f"{_eighths(cups / 50)} cup {component}" for component, cups in sorted(credited.items()) if cups / 50 * 8 >= 1
    ]
    lines = [
        f"recipe harbor dish {number}",
        f"    number        H-{number}",
        "    course        side",
        "    makes         50 portions of 1 cup",
        "    in            bench cup",
        "    for           breakfast, lunch; grades K-5, 6-8, 9-12",
        "    process       same day",
        f"    credits       {', '.join(claims) or 'nothing'}",
        "    made without  peanuts, tree nuts",
        "    keeps         72 h cold",
        "    serve with    8 oz portion spoon",
        "",
        "    ingredients",
        *ingredients,
    ]
    lines += ["", "    steps"]
    for index in range(6):
        lines.append(
            f"        - Combine [{names[index]}] with [{names[(index + 5) % 11]}] and stir well until evenly mixed."
        )
    lines.insert(-4, "            cook at 350 F for 16 to 18 min in convection oven")
    lines += [
        "        - Fold everything together and portion with the spoon.",
        "            ccp  cook to 165 F for 15 s",
        "            ccp  hold hot at 135 F or above up to 4 h",
        "",
        "    leftovers",
        "        keeps     3 d cold, once",
        "        ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more",
        "        ccp reheat to 165 F for 15 s within 2 h",
    ]
    return "\n".join(lines) + "\n"


def _measure(cups: Fraction) -> str:
    """Cups as quarts and cups."""
    quarts, rest = divmod(cups, 4)
    return " ".join(([f"{quarts} qt"] if quarts else []) + ([f"{_mixed(rest)} cup"] if rest else []))


def _eighths(value: Fraction) -> str:
    return _mixed(Fraction((value * 8).__floor__(), 8))


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return " ".join(([str(whole)] if whole else []) + ([str(rest)] if rest else []))


def library(folder: Path, recipes: int, seed: int = 7) -> None:
    """Writes a library of so many recipes, one a file."""
    rng = random.Random(seed)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "recipelang.toml").write_text('[library]\nname = "Bench"\nschool-year = "2026-27"\n', encoding="utf-8")
    foods = "\n".join(food(number) for number in range(FOODS))
    (folder / "foods.recipe").write_text(foods, encoding="utf-8")
    (folder / "containers.recipe").write_text("container bench cup\n    holds 400 fl oz\n    price 0.11 each\n")
    for number in range(recipes):
        sub = folder / f"recipes{number // 1000}"
        sub.mkdir(exist_ok=True)
        (sub / f"dish{number:05}.recipe").write_text(recipe(number, rng), encoding="utf-8")


def as_yaml(text: str) -> str:
    """A recipe's lines as YAML of the same shape: a mapping of fields, lists of ingredients and steps."""
    out = ["---"]
    block = ""
    for line in text.rstrip("\n").split("\n"):
        stripped = line.strip()
        if not stripped:
            continue
        word, _, rest = stripped.partition(" ")
        if not line.startswith(" "):
            out += [f"{word}: {rest.strip()}", "fields:"]
        elif stripped in ("ingredients", "steps", "leftovers"):
            out.append(f"{stripped}:")
            block = stripped
        elif block:
            quoted = stripped.lstrip("- ").replace("'", "")
            out.append(f"  - '{quoted}'")
        else:
            out.append(f"  {word}: '{rest.strip()}'")
    return "\n".join(out) + "\n"
