"""The limits of the rules about meals: 7 CFR 210.10, 220.8, 225.16 and 226.20."""

from __future__ import annotations

from tests.rules.boundary import Boundary

FOODS = """food oat round
    credits 1/4 oz eq grain per each
    whole grain-rich
food white roll
    credits 1/4 oz eq grain per each
food graham square
    credits 1/4 oz eq grain per each
    grain-based dessert
food egg patty
    credits 1/4 oz eq meat/meat alternate per each
food apple wedges
    credits 1/8 cup fruit per 1/8 cup
food pear wedges
    credits 1/8 cup fruit per 1/8 cup
food apple juice
    juice
    credits 1/8 cup fruit per 1/8 cup
food broccoli
    credits 1/8 cup dark green vegetable per 1/8 cup
food hash browns
    credits 1/8 cup starchy vegetable per 1/8 cup
food fat-free milk half pint
    milk fat-free, unflavored
    credits 1 cup milk per each
food low-fat milk half pint
    milk 1%, unflavored
    credits 1 cup milk per each
food whole milk half pint
    milk whole, unflavored
    credits 1 cup milk per each
food fat-free chocolate half pint
    milk fat-free, flavored
    credits 1 cup milk per each
recipe bean soup
    makes 100 portions of 1 cup
    leftovers
        keeps 3 d cold
"""
DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday")


def menu(program: str, meals: str, *lines: str, foods: str = "") -> str:
    """A menu; what is not a day stands under the day above it."""
    body = [line if line.startswith(("monday", "tuesday", "wednesday", "thursday", "friday", "every", "offer", "starts"))
            else f"    {line}" for line in lines]  # fmt: skip
    return "\n".join(
        [
            FOODS + foods + "menu harbor menu",
            f"    program {program}",
            f"    meals {meals}",
            *(f"    {one}" for one in body),
            "",
        ]
    )


def week(program: str, meals: str, *every_day: str, foods: str = "", days: int = 5) -> str:
    return menu(program, meals, "every day", *every_day, *DAYS[:days], foods=foods)


def box(*nutrients: str) -> str:
    """A breakfast in a box, which states all that averages are held to but what is given."""
    given = {line.rpartition(" ")[0].rstrip("0123456789.§ ") for line in nutrients}
    others = {"calories": "500", "saturated fat": "0 g", "sodium": "0 mg", "added sugars": "0 g"}
    stated = [*nutrients, *(f"{name} {value}" for name, value in others.items() if name not in given)]
    return "food breakfast box\n    nutrition per each\n" + "".join(f"        {line}\n" for line in stated)


def boxed(rule: str, limit: str, nutrient: str, at: str, beyond: str, date: str = "2026-09-14") -> Boundary:
    text = menu("breakfast", "9-12 240", f"monday {date}", "serve breakfast box, 240", foods=box(nutrient))
    return Boundary(rule, limit, text, at, beyond)


def product(facts: str, per: str, serving: str) -> str:
    foods = f"food sweet product\n    {facts}\n    nutrition per {per}\n        added sugars § g\n"
    return menu("breakfast", "9-12 240", "monday 2026-09-14", f"serve {serving} sweet product, 240", foods=foods)


def care_day(fruit: str, grain: str) -> str:
    """A breakfast with juice and white bread, and a snack on the same date."""
    foods = """food low-fat milk
    milk 1%, unflavored
    credits 1/8 cup milk per 1/8 cup
"""
    breakfast = menu("child care breakfast", "ages 3-5 24", "monday 2026-09-14", "serve 2 each white roll, 24",
                     "serve 1/2 cup apple juice, 24", "serve 3/4 cup low-fat milk, 24", foods=foods)  # fmt: skip
    return (
        breakfast
        + f"""menu harbor snack
    program child care snack
    meals ages 3-5 24
    monday 2026-09-14
        serve {fruit}, 24
        serve 2 each {grain}, 24
"""
    )


def adults_day() -> str:
    """A breakfast of adults with yogurt for its milk, and a snack with what is given."""
    foods = """food low-fat milk
    milk 1%, unflavored
    credits 1/8 cup milk per 1/8 cup
food plain yogurt
    yogurt
    credits 1 oz eq meat/meat alternate per 4 oz
"""
    breakfast = menu("child care breakfast", "adults 20", "monday 2026-09-14", "serve 8 each oat round, 20",
                     "serve 1/2 cup apple wedges, 20", "serve 6 oz plain yogurt, 20", foods=foods)  # fmt: skip
    return (
        breakfast
        + """menu harbor lunch
    program child care lunch
    meals adults 20
    monday 2026-09-14
        serve 8 each oat round, 20
        serve 8 each egg patty, 20
        serve 1/2 cup apple wedges, 20
        serve 1/2 cup broccoli, 20
        serve §, 20
"""
    )


def lunch(group: str, *, grain: str = "4 each", meat: str = "4 each", greens: str = "1/2") -> str:
    """A week of lunches that is full but for what is given on Monday, on top of 2 oz eq a day."""
    foods = """food beans
    credits 1/8 cup legume vegetable per 1/8 cup
food carrots
    credits 1/8 cup red/orange vegetable per 1/8 cup
food green beans
    credits 1/8 cup other vegetable per 1/8 cup
"""
    return menu(
        "lunch", f"{group} 160", "every day",
        "serve 8 each oat round, 160", "serve 8 each egg patty, 160", "serve 1 cup apple wedges, 160",
        "serve 1/2 cup carrots, 160", "serve 1/8 cup green beans, 160",
        "serve fat-free milk half pint, 160",
        "monday", f"serve {grain} oat round, 160", f"serve {meat} egg patty, 160", f"serve {greens} cup broccoli, 160",
        "tuesday", "serve 1/2 cup beans, 160", "wednesday", "serve 1/2 cup hash browns, 160",
        "thursday", "serve 1/2 cup beans, 160", "friday", "serve 1/2 cup hash browns, 160",
        foods=foods,
    )  # fmt: skip


LIMITS = (
    boxed("calories-out-of-range", "at least 450 calories", "calories §", "450", "449.9"),
    boxed("calories-out-of-range", "at most 600 calories", "calories §", "600", "600.1"),
    boxed("sodium-over", "640 mg", "sodium § mg", "640", "640.1"),
    boxed("sodium-over", "570 mg from July 1, 2027", "sodium § mg", "570", "570.1", "2027-09-13"),
    boxed("saturated-fat-over", "less than 10% of 500 calories at 9 calories a gram", "saturated fat § g", "5.55", "5.5556"),
    boxed("added-sugars-over", "less than 10% of 500 calories at 4 calories a gram", "added sugars § g", "12.49", "12.5", "2027-09-13"),
    Boundary(
        "added-sugars-over", "none before July 1, 2027",
        menu("breakfast", "9-12 240", "§", "serve breakfast box, 240", foods=box("added sugars 30 g")),
        "wednesday 2027-06-30", "thursday 2027-07-01",
    ),
    Boundary(
        "missing-component", "an eighth of a cup is short, and not missing",
        menu("breakfast", "9-12 240", "monday", "serve 4 each oat round, 240", "serve fat-free milk half pint, 240",
             "serve 1/8 cup §, 240"),
        "apple wedges", "water",
    ),
    Boundary(
        "short-component", "1 cup of fruit a day",
        menu("breakfast", "9-12 240", "monday", "serve 4 each oat round, 240", "serve fat-free milk half pint, 240",
             "serve § cup apple wedges, 240"),
        "1", "7/8",
    ),
    Boundary(
        "short-component", "1 oz eq of grain or meat alternate a day",
        menu("breakfast", "9-12 240", "monday", "serve § each oat round, 240", "serve fat-free milk half pint, 240",
             "serve 1 cup apple wedges, 240"),
        "4", "3",
    ),
    Boundary("short-week", "three days", week("breakfast", "9-12 240", "serve oat round, 240", days=2) + "    §\n",
             "wednesday\n        serve oat round, 240", "// two days"),
    Boundary("weekly-component-short", "9 oz eq of breakfast grains for 9-12 in five days",
             menu("breakfast", "9-12 240", "every day", "serve 1 cup apple wedges, 240", "serve fat-free milk half pint, 240",
                  "serve 7 each oat round, 240", "monday", "serve § each oat round, 240", *DAYS[1:]), "1", "0.999"),
    Boundary("weekly-component-short", "1/2 cup of dark green", lunch("K-5", greens="§"),
             "1/2", "3/8"),
    Boundary("whole-grain-short", "80%",
             week("breakfast", "9-12 240", "serve 4 each oat round, 240", "serve § each white roll, 240"), "1", "2"),
    Boundary("juice-over-limit", "half",
             week("breakfast", "9-12 240", "serve 1/2 cup apple wedges, 240", "serve § cup apple juice, 240"), "1/2", "5/8"),
    Boundary("grain-dessert-over", "2 oz eq a week",
             menu("lunch", "9-12 240", "monday", "serve 4 each graham square, 240", "tuesday",
                  "serve § each graham square, 240", "wednesday", "serve oat round, 240"), "4", "5"),
    Boundary("meat-for-grain-over", "three days",
             menu("child care breakfast", "ages 3-5 40", *(line for day in DAYS[:3] for line in (day, "serve 2 each egg patty, 40")),
                  "thursday", "serve 2 each §, 40"), "oat round", "egg patty"),
    Boundary("milk-choice", "two kinds", week("breakfast", "9-12 240", "choose 1", "serve fat-free milk half pint, 100",
             "serve §, 140", "end"), "low-fat milk half pint", "fat-free milk half pint"),
    Boundary("milk-choice", "an unflavored one", week("breakfast", "9-12 240", "choose 1",
             "serve fat-free chocolate half pint, 100", "serve §, 140", "end", foods="""food low-fat chocolate half pint
    milk 1%, flavored
    credits 1 cup milk per each
"""), "low-fat milk half pint", "low-fat chocolate half pint"),
    Boundary("milk-not-allowed", "whole milk at lunch from January 14, 2026",
             menu("lunch", "9-12 240", "§", "serve whole milk half pint, 240"), "wednesday 2026-01-14", "tuesday 2026-01-13"),
    Boundary("product-sugars-over", "12 g in 6 oz of yogurt", product("yogurt", "6 oz", "6 oz"), "12", "12.1"),
    Boundary("product-sugars-over", "6 g in an ounce of cereal", product("breakfast cereal", "1 oz", "1 oz"), "6", "6.1"),
    Boundary("product-sugars-over", "10 g in 8 fl oz of flavored milk",
             product("milk fat-free, flavored\n    liquid", "8 fl oz", "8 fl oz"), "10", "10.1"),
    Boundary("short-snack", "two components in full",
             menu("snack", "K-8 60", "monday", "serve 4 each oat round, 60", "serve § cup apple wedges, 60"), "3/4", "5/8"),
    Boundary("too-few-items-to-decline", "four items",
             menu("breakfast", "9-12 240", "offer versus serve", "monday", "serve 4 each oat round, 240",
                  "serve 1 cup apple wedges, 240", "serve fat-free milk half pint, 240", "serve § each egg patty, 240"), "4", "3"),
    Boundary("missing-offer-versus-serve", "grade 9, 7 CFR 210.10(e)",
             menu("lunch", "§ 160", "monday", "serve oat round, 160"), "6-8", "9-12"),
    Boundary("juice-at-two-meals", "one meal or snack a day", care_day("1/2 cup §", "oat round"),
             "apple wedges", "apple juice"),
    Boundary("no-whole-grain-in-day", "one serving a day", care_day("1/2 cup apple wedges", "§"),
             "oat round", "white roll"),
    Boundary("yogurt-for-milk-twice", "one meal a day", adults_day(), "1 cup low-fat milk", "6 oz plain yogurt"),
    Boundary("meat-in-three-dishes", "1 oz eq in two items for K-8",
             menu("lunch", "K-8 160", "monday", "serve § each egg patty, 160", "serve 2 each cheese cube, 160",
                  "serve egg strip, 160", foods="""food cheese cube
    credits 1/4 oz eq meat/meat alternate per each
food egg strip
    credits 1/4 oz eq meat/meat alternate per each
"""), "2", "1"),
    Boundary("too-few-kinds", "two kinds of fruit or vegetable at a summer lunch",
             menu("summer lunch", "K-8 60", "monday", "serve 1/2 cup apple wedges, 60", "serve 1/4 cup §, 60"),
             "pear wedges", "apple wedges"),
    Boundary("vegetables-for-fruit", "one day of one subgroup",
             menu("breakfast", "9-12 240", "monday", "serve 1 cup hash browns, 240", "tuesday", "serve 1 cup §, 240",
                  "wednesday", "serve 1 cup apple wedges, 240"), "apple wedges", "hash browns"),
    Boundary("tray-short", "half a cup of fruit or vegetable",
             FOODS + "recipe quick breakfast\n    makes 50 portions\n    tray for breakfast, grades 9-12\n"
             "    ingredients per portion\n        4 each oat round\n        § cup apple wedges\n"
             "        1 each fat-free milk half pint, on the side\n", "1/2", "3/8"),
    Boundary("leftover-missing", "as many as were left over",
             menu("lunch", "9-12 100", "offer versus serve", "monday", "serve bean soup, 60, make 80", "tuesday",
                  "serve bean soup, §, leftover"), "20", "21"),
    Boundary("leftover-too-old", "3 d, the day it was made being day 1",
             menu("lunch", "9-12 100", "offer versus serve", "monday", "serve bean soup, 60, make 80", "§",
                  "serve bean soup, 20, leftover"), "wednesday", "thursday"),
    Boundary("planned-counts", "as many as there are meals",
             menu("breakfast", "9-12 240", "monday", "serve oat round, §"), "240", "241"),
    Boundary("closed-day", "the last closed day",
             menu("breakfast", "9-12 240", "§", "serve oat round, 240",
                  foods="calendar brindle cove\n    closed 2026-10-12 to 2026-10-13\n"),
             "wednesday 2026-10-14", "tuesday 2026-10-13"),
    Boundary("weekday-date-disagree", "the day itself",
             menu("breakfast", "9-12 240", "monday §", "serve oat round, 240"), "2026-09-14", "2026-09-15"),
    Boundary("no-standard", "rules are kept from July 1, 2024",
             menu("breakfast", "9-12 240", "§", "serve oat round, 240"), "monday 2024-07-01", "friday 2024-06-28"),
    Boundary("grades-disagree", "the group that `meals` counts",
             menu("lunch", "K-8 160", "monday", "serve 1/2 cup apple wedges for §, 160"), "K-8", "K-5"),
)  # fmt: skip

WITHOUT_A_FIGURE = {
    "average-unknown": "asks for what is missing",
    "deep-fried-on-site": "fried or not",
    "no-offer-versus-serve": "a program has it or not",
    "unmeasured-serving": "asks for a size that is missing",
}
