"""The limits of the rules about time and temperature: FDA Food Code, edition 2022."""

from __future__ import annotations

from tests.rules.boundary import Boundary

FOODS = """food diced chicken
    arrives cooked
food sliced turkey
    arrives ready to eat
    tcs
food whipped ricotta
    arrives ready to eat
    tcs
    keeps 5 d opened
food plain yogurt
    yogurt
    arrives ready to eat
    tcs
food dry lentils
    arrives dry
food frozen chicken
    arrives cooked, frozen
food green beans
    arrives raw produce
food raw thighs
    arrives raw poultry
food raw patties
    arrives raw ground meat
food raw roast
    arrives raw whole meat
food raw fillets
    arrives raw fish
food raw cutlets
    arrives raw tenderized meat
food raw hams
    arrives raw injected meat
food raw fish cakes
    arrives raw ground fish
food raw stuffed chops
    arrives raw stuffed food
food whole eggs
    arrives raw eggs
food whole wheat flour
    arrives dry
"""


def steps(food: str, *lines: str, fields: tuple[str, ...] = (), leftovers: tuple[str, ...] = ()) -> str:
    """A dish of one food under process lines."""
    return "\n".join(
        [
            f"{FOODS}recipe harbor dish\n    course entree\n    makes 50 portions of 3 oz",
            *(f"    {field}" for field in fields),
            f"    ingredients\n        10 lb {food}\n    steps\n        - Prepare [{food}].",
            *(f"            {line}" for line in lines),
            *(["    leftovers", *(f"        {line}" for line in leftovers)] if leftovers else []),
            "",
        ]
    )


CHILLED = "ccp chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more"


def cooked(food: str, line: str, limit: str, at: str, beyond: str) -> Boundary:
    return Boundary("undercooked", limit, steps(food, line, "ccp hold hot at 135 F or above up to 2 h"), at, beyond)


def chilled(line: str, limit: str, at: str, beyond: str) -> Boundary:
    return Boundary("chill-too-slow", limit, steps("dry lentils", "boil for 40 min", line), at, beyond)


def reheated(line: str, limit: str, at: str, beyond: str) -> Boundary:
    return Boundary("reheat-too-low", limit, steps("dry lentils", "boil for 40 min", CHILLED, line), at, beyond)


def served(food: str, who: str) -> str:
    """A food with its lines, served as it comes to some."""
    name = food.partition("\n")[0]
    return (
        f"food {food}\nrecipe small cup\n    makes 50 portions of 1 oz\n    for {who}\n"
        f"    ingredients\n        50 oz {name}\n    steps\n        - Portion [{name}].\n"
        "            ccp hold cold at 41 F or below up to 4 h\n"
    )


PAN = """food whole wheat flour
    arrives dry
recipe single round
    makes 50 portions of 1 each
    each weighs 2 oz
    ingredients
        6 lb 4 oz whole wheat flour, not credited
recipe other round
    makes 50 portions of 1 each
    each weighs § oz
    ingredients
        9 lb whole wheat flour, not credited
recipe bread basket
    course grain
    makes 50 portions of 1 each
    ingredients
        25 each single round
        25 each other round
    steps
        - Bake [single round] and [other round].
            cook at 400 F for 12 min
"""

LIMITS = (
    cooked("raw thighs", "ccp cook to § F", "poultry reaches 165 F", "165", "164"),
    cooked("raw patties", "ccp cook to § F for 17 s", "ground meat reaches 155 F", "155", "154"),
    cooked("raw patties", "ccp cook to 155 F for § s", "ground meat is held at 155 F for 17 s", "17", "16"),
    cooked("whole eggs", "ccp cook to § F for 17 s", "eggs reach 155 F", "155", "154"),
    cooked("whole eggs", "ccp cook to 155 F for § s", "eggs are held at 155 F for 17 s", "17", "16"),
    cooked("raw roast", "ccp cook to § F for 15 s", "whole meat reaches 145 F", "145", "144"),
    cooked("raw roast", "ccp cook to 145 F for § s", "whole meat is held at 145 F for 15 s", "15", "14"),
    cooked("raw roast", "ccp cook to 130 F for § min", "a roast at 130 F takes 112 min", "112", "111"),
    cooked("raw cutlets", "ccp cook to § F for 17 s", "tenderized meat reaches 155 F", "155", "154"),
    cooked("raw cutlets", "ccp cook to 155 F for § s", "tenderized meat is held at 155 F for 17 s", "17", "16"),
    cooked("raw hams", "ccp cook to § F for 17 s", "injected meat reaches 155 F", "155", "154"),
    cooked("raw hams", "ccp cook to 155 F for § s", "injected meat is held at 155 F for 17 s", "17", "16"),
    cooked("raw fish cakes", "ccp cook to § F for 17 s", "ground fish reaches 155 F", "155", "154"),
    cooked("raw fish cakes", "ccp cook to 155 F for § s", "ground fish is held at 155 F for 17 s", "17", "16"),
    cooked("raw stuffed chops", "ccp cook to § F", "stuffed meat reaches 165 F", "165", "164"),
    cooked("raw thighs", "ccp microwave to § F, stand covered 2 min", "165 F in a microwave", "165", "164"),
    cooked("raw thighs", "ccp microwave to 165 F, stand covered § s", "2 min of standing", "120", "119"),
    cooked("raw fillets", "ccp cook to § F for 15 s", "fish reaches 145 F", "145", "144"),
    cooked("raw fillets", "ccp cook to 145 F for § s", "fish is held at 145 F for 15 s", "15", "14"),
    chilled(
        "ccp chill from 135 F to 70 F within §, then to 41 F within 3 h more", "2 h to 70 F", "2 h", "2 h 1 min"
    ),
    chilled("ccp chill from 135 F to 70 F within 2 h, then to 41 F within §", "6 h in all", "4 h more", "4 h 1 min more"),
    chilled("ccp chill to 41 F within § in all", "4 h in all with no first stage", "4 h", "4 h 1 min"),
    chilled("ccp chill from 135 F to § F within 2 h, then to 41 F within 4 h more", "70 F in the first stage", "70", "71"),
    chilled("ccp chill from 135 F to 70 F within 2 h, then to § F within 4 h more", "down to 41 F", "41", "42"),
    Boundary(
        "chill-too-slow", "4 h from room temperature", steps("sliced turkey", "ccp chill to 41 F within §"), "4 h",
        "4 h 1 min",
    ),
    reheated("ccp reheat to § F for 15 s within 2 h", "165 F again", "165", "164"),
    reheated("ccp reheat to 165 F for § s within 2 h", "15 s at 165 F", "15", "14"),
    reheated("ccp reheat to 165 F for 15 s within §", "2 h to 165 F", "2 h", "2 h 1 min"),
    Boundary(
        "reheat-too-low", "135 F for ready food of a plant", steps("diced chicken", "ccp reheat to § F for 15 s"), "135",
        "134",
    ),
    Boundary(
        "reheat-too-low", "165 F for leftovers",
        steps("diced chicken", "ccp reheat to 135 F", "ccp hold hot at 135 F up to 2 h",
              leftovers=("keeps 3 d cold", CHILLED, "ccp reheat to § F for 15 s within 2 h")),
        "165", "164",
    ),
    Boundary("unsafe-hold", "41 F cold", steps("diced chicken", "ccp hold cold at § F or below up to 2 h"), "41", "42"),
    Boundary("unsafe-hold", "135 F hot", steps("diced chicken", "ccp hold hot at § F or above up to 2 h"), "135", "134"),
    Boundary("hold-too-long", "7 d", steps("diced chicken", "ccp hold cold at 41 F up to § d"), "7", "8"),
    Boundary("hold-too-long", "144 h", steps("diced chicken", "ccp hold cold at 41 F up to § h"), "144", "145"),
    Boundary(
        "hold-too-long", "7 d in all, the freezer between",
        steps("diced chicken", "ccp hold cold at 41 F up to 3 d", "freeze", "ccp thaw cold",
              "ccp hold cold at 41 F up to § d"),
        "4", "5",
    ),
    Boundary(
        "hold-too-long", "4 h without control", steps("diced chicken", "ccp hold without temperature control up to §"),
        "4 h", "4 h 1 min",
    ),
    Boundary(
        "hold-too-long", "6 h without control, cold at the start",
        steps("diced chicken", "ccp hold cold at 41 F up to 2 h",
              "ccp hold without temperature control up to § at 70 F or below"),
        "6 h", "6 h 1 min",
    ),
    Boundary(
        "hold-too-long", "70 F for the 6 h",
        steps("diced chicken", "ccp hold cold at 41 F up to 2 h",
              "ccp hold without temperature control up to 6 h at § F or below"),
        "70", "71",
    ),
    Boundary(
        "hold-too-long", "4 h warm in all, cold in between",
        steps("diced chicken", "work at room temperature up to 2 h", "ccp hold cold at 41 F up to 2 h",
              "ccp hold without temperature control up to §"),
        "2 h", "2 h 1 min",
    ),
    Boundary(
        "hold-too-long", "7 d in all, leftovers among them",
        steps("diced chicken", "ccp hold cold at 41 F up to 3 d", leftovers=("keeps § d cold",)), "5", "6",
    ),
    Boundary(
        "hold-too-long", "7 d in all, heated in between",
        steps("diced chicken", "ccp hold cold at 41 F up to 3 d", "ccp reheat to 165 F for 15 s within 2 h", CHILLED,
              "ccp hold cold at 41 F up to § d"),
        "5", "6",
    ),
    Boundary(
        "reheat-too-low", "half an hour at room temperature between hot and hot",
        steps("dry lentils", "boil for 40 min", "rest for § at room temperature", "ccp hold hot at 135 F up to 2 h"),
        "30 min", "31 min",
    ),
    Boundary(
        "undercooked", "135 F for plants that are held hot",
        steps("green beans", "ccp cook to § F", "ccp hold hot at 135 F up to 2 h"),
        "135", "134",
    ),
    Boundary(
        "unsafe-hold", "half an hour of work with frozen food",
        steps("frozen chicken", "work at room temperature up to §", "ccp reheat to 135 F", "ccp hold hot at 135 F up to 2 h"),
        "30 min", "31 min",
    ),
    Boundary(
        "hold-too-long", "4 h warm in all",
        steps("diced chicken", "work at room temperature up to 2 h", "rest for § at room temperature"), "2 h", "2 h 1 min",
    ),
    Boundary(
        "hold-too-long", "a dish keeps 7 d",
        steps("diced chicken", "ccp hold cold at 41 F up to 2 h", fields=("keeps § d cold",)), "7", "8",
    ),
    Boundary(
        "hold-too-long", "held as long as the dish says it keeps",
        steps("diced chicken", "ccp hold cold at 41 F up to § h", fields=("keeps 72 h cold",)), "72", "73",
    ),
    Boundary(
        "hold-too-long", "leftovers keep 7 d",
        steps("diced chicken", "ccp hold cold at 41 F up to 2 h", leftovers=("keeps § d cold",)), "7", "8",
    ),
    Boundary(
        "outlives-ingredient", "5 d, as the opened tub",
        steps("whipped ricotta", "ccp hold cold at 41 F up to 2 h", fields=("keeps § d cold",)), "5", "6",
    ),
    Boundary(
        "outlives-ingredient", "held 5 d, as the opened tub",
        steps("whipped ricotta", "ccp hold cold at 41 F up to § d"), "5", "6",
    ),
    Boundary(
        "kitchen-practice", "72 h for prepared cups",
        steps("plain yogurt", "ccp hold cold at 41 F up to 2 h", fields=("keeps § h cold",)), "72", "73",
    ),
    Boundary("uneven-pieces", "half as heavy again", PAN, "2.99", "3"),
    Boundary("honey-for-infants", "the first birthday", served("clover honey\n    not tcs", "ages §"), "1", "0"),
    Boundary(
        "undercooked", "untreated juice from ten years on (3-801.11(A))",
        served("orchard cider\n    juice, untreated\n    tcs", "ages §"), "10", "9",
    ),
    Boundary(
        "undercooked", "untreated juice from the grade after the fourth (3-801.11(A))",
        served("orchard cider\n    juice, untreated\n    tcs", "grades §"), "5", "4",
    ),
    Boundary(
        "undercooked", "raw sprouts after preschool (3-801.11(C)(3))",
        served("pea sprouts\n    arrives raw sprouts", "ages §"), "5-6", "4-6",
    ),
)  # fmt: skip

WITHOUT_A_FIGURE = {
    "control-unknown": "asks for a word that is missing",
    "length-unknown": "asks for a length that is missing",
    "no-ccp": "asks for a line that is missing",
    "process-mismatch": "counts whole trips; the classes are held apart in the cases of the process",
}
