"""The limits of what is sold beside the meals: 7 CFR 210.11."""

from __future__ import annotations

from tests.rules.boundary import Boundary


def item(*, sells: str = "harbor bar", facts: str = "whole grain-rich", **nutrients: str) -> str:
    """A bar of 40 g that keeps every limit but the one that is given."""
    stated = {"calories": "180", "total_fat": "5 g", "saturated_fat": "1 g", "sodium": "100 mg", "total_sugars": "10 g"}
    lines = "".join(f"        {name.replace('_', ' ')} {value}\n" for name, value in {**stated, **nutrients}.items())
    return (
        f"food harbor bar\n    each weighs 40 g\n    credits 1 oz eq grain per each\n    {facts}\n    nutrition per each\n{lines}"
        f"menu pier store\n    program a la carte\n    meals 9-12 240\n    monday\n        sell {sells}, 40, at 1.00\n"
    )


def entree(**nutrients: str) -> str:
    stated = {"calories": "300", "total_fat": "5 g", "saturated_fat": "1 g", "sodium": "400 mg", "total_sugars": "10 g"}
    lines = "".join(f"        {name.replace('_', ' ')} {value}\n" for name, value in {**stated, **nutrients}.items())
    return f"""food whole grain fold
    each weighs 200 g
    credits 2 oz eq grain per each
    whole grain-rich
    nutrition per each
{lines}recipe harbor fold
    course entree
    makes 50 portions of 1 each
    credits 2 oz eq grain
    whole grain-rich
    ingredients per portion
        1 each whole grain fold
menu pier store
    program a la carte
    meals 9-12 240
    monday
        sell harbor fold, 40, at 1.00
"""


def drink(facts: str, calories: str, size: str, grades: str) -> str:
    return (
        f"food harbor drink\n    liquid\n    weighs 240 g per cup\n    {facts}\n    nutrition per cup\n        calories {calories}\n"
        f"menu pier store\n    program a la carte\n    meals {grades} 240\n    monday\n"
        f"        sell {size} fl oz harbor drink, 40, at 1.00\n"
    )


def on_menu(sold: str) -> str:
    """Friday's entree, too rich to be sold by itself, before a closed Monday and Tuesday."""
    return f"""recipe bean bowl
    course entree
    makes 50 portions of 1 cup
    credits 2 oz eq meat/meat alternate, 1 oz eq grain
menu harbor lunch
    program lunch
    meals 9-12 240
    friday 2026-10-09
        serve bean bowl, 240
calendar brindle cove
    closed 2026-10-12 to 2026-10-13
menu pier store
    program a la carte
    meals 9-12 240
    {sold}, 40, at 2.50
"""


def limit(words: str, text: str, at: str, beyond: str) -> Boundary:
    return Boundary("competitive-food", words, text, at, beyond)


MILK = "milk 1%, unflavored\n    credits 1 cup milk per cup"
JUICE = "juice\n    credits 1 cup fruit per cup"
CAFFEINE = "caffeine § mg per cup"

LIMITS = (
    limit("200 calories of a side", item(calories="§"), "200", "200.1"),
    limit("200 mg of sodium in a side", item(sodium="§ mg"), "200", "200.1"),
    limit("35% of 180 calories from fat", item(total_fat="§ g"), "7", "7.01"),
    limit("less than 10% of 180 calories from saturated fat", item(saturated_fat="§ g"), "1.99", "2"),
    limit("35% of 40 g sugars", item(total_sugars="§ g"), "14", "14.1"),
    limit("350 calories of an entree", entree(calories="§"), "350", "350.1"),
    limit("480 mg of sodium in an entree", entree(sodium="§ mg"), "480", "480.1"),
    limit("8 fl oz of milk in an elementary school", drink(MILK, "100", "§", "K-5"), "8", "8.5"),
    limit("12 fl oz of milk in a middle school", drink(MILK, "100", "§", "6-8"), "12", "12.5"),
    limit("12 fl oz of milk in a high school", drink(MILK, "100", "§", "9-12"), "12", "12.5"),
    limit("8 fl oz of juice in an elementary school", drink(JUICE, "110", "§", "K-5"), "8", "8.5"),
    limit("12 fl oz of juice in a high school", drink(JUICE, "110", "§", "9-12"), "12", "12.5"),
    limit("20 fl oz of a calorie-free drink", drink("caffeine 0 mg per cup", "4", "§", "9-12"), "20", "20.5"),
    limit("less than 5 calories in 8 fl oz, or 10 in 20", drink("caffeine 0 mg per cup", "§", "20", "9-12"), "4.9", "5"),
    limit("12 fl oz of a lower-calorie drink", drink("caffeine 0 mg per cup", "40", "§", "9-12"), "12", "12.5"),
    limit("40 calories in 8 fl oz of a lower-calorie drink", drink("caffeine 0 mg per cup", "§", "12", "9-12"), "40", "40.1"),
    limit("no caffeine in a middle school", drink(f"{MILK}\n    {CAFFEINE}", "100", "8", "6-8"), "0", "1"),
    limit("the day itself and the next school day, whatever is closed between", on_menu("§\n        sell bean bowl"),
          "wednesday 2026-10-14", "thursday 2026-10-15"),
    limit("the day itself, not the one before", on_menu("§\n        sell bean bowl"), "friday 2026-10-09", "thursday 2026-10-08"),
    limit("a portion no larger", on_menu("friday 2026-10-09\n        sell § bean bowl"), "1 cup", "1 1/8 cups"),
)  # fmt: skip

WITHOUT_A_FIGURE: dict[str, str] = {}
