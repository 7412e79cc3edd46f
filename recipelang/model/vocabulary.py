"""Fixed words: allergens, nutrients, ways foods arrive, grain groups."""

from __future__ import annotations

from typing import Final

from recipelang.units.fraction import ONE, Fraction

ALLERGENS: Final = (
    "milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanuts", "wheat", "soy", "sesame",
)  # fmt: skip
"""The nine major food allergens: 21 U.S.C. 321(qq), with sesame since January 1, 2023."""

ALLERGEN_SPELLINGS: Final = {
    "milk": "milk", "dairy": "milk", "egg": "egg", "eggs": "egg", "fish": "fish",
    "crustacean shellfish": "crustacean shellfish", "shellfish": "crustacean shellfish",
    "crustaceans": "crustacean shellfish", "tree nuts": "tree nuts", "tree nut": "tree nuts", "nuts": "tree nuts",
    "nut": "tree nuts",
    "peanuts": "peanuts", "peanut": "peanuts", "wheat": "wheat", "soy": "soy", "soybeans": "soy", "soybean": "soy",
    "soya": "soy", "sesame": "sesame",
}  # fmt: skip

NUTS_OF_SOME_KIND: Final = frozenset({"nuts", "nut"})
"""Words for tree nuts, for peanuts, or for both: nobody can tell which."""

NAMES_KINDS: Final = frozenset({"fish", "crustacean shellfish", "tree nuts"})
"""Allergens that a label names by kind: the species or the nut (21 U.S.C. 343(w))."""

GLUTEN_WORDS: Final = frozenset({"gluten"})

NUTRIENTS: Final[dict[str, str]] = {
    "calories": "kcal", "total fat": "g", "saturated fat": "g", "trans fat": "g", "cholesterol": "mg", "sodium": "mg",
    "carbohydrate": "g", "dietary fiber": "g", "total sugars": "g", "added sugars": "g", "protein": "g",
    "vitamin d": "mcg", "calcium": "mg", "iron": "mg", "potassium": "mg",
}  # fmt: skip
"""The nutrients of a label and the unit each is given in."""

NUTRIENT_SPELLINGS: Final = {
    "energy": "calories", "kcal": "calories", "fat": "total fat", "carbohydrates": "carbohydrate",
    "total carbohydrate": "carbohydrate", "fiber": "dietary fiber", "fibre": "dietary fiber", "sugars": "total sugars",
    "sugar": "total sugars", "saturated fatty acids": "saturated fat",
}  # fmt: skip
NUTRIENT_TITLES: Final = {"vitamin d": "vitamin D"}

GRAIN_GROUPS: Final[dict[str, tuple[Fraction, Fraction]]] = {
    "A": (Fraction(22), Fraction(8, 10)),
    "B": (Fraction(28), ONE),
    "C": (Fraction(34), Fraction(12, 10)),
    "D": (Fraction(55), Fraction(2)),
    "E": (Fraction(69), Fraction(24, 10)),
    "F": (Fraction(82), Fraction(29, 10)),
    "G": (Fraction(125), Fraction(44, 10)),
    "H": (Fraction(28), ONE),
    "I": (Fraction(28), ONE),
}
"""Grams and ounces of one ounce equivalent, by product group: the grain-equivalents table (Exhibit A), read in three
State copies. The two columns differ slightly; each is compared in its own unit."""

GRAIN_TABLE: Final = "Exhibit A, weights of one ounce equivalent of grain"


def creditable_grams(group: str) -> Fraction:
    """Grams of creditable grain in one ounce equivalent of a scratch product: 16 in groups A to G, 28 in H and I."""
    return Fraction(28) if group in "HI" else Fraction(16)


def other_grain_limit(group: str) -> Fraction:
    """Grams of grain that does not credit that a portion may hold and still credit (from memory)."""
    return Fraction(699, 100) if group in "HI" else Fraction(399, 100)


ARRIVALS: Final = (
    "raw poultry", "raw ground meat", "raw whole meat", "raw tenderized meat", "raw injected meat", "raw fish",
    "raw ground fish", "raw stuffed food", "raw eggs", "pasteurized eggs", "raw produce", "whole leafy greens",
    "whole melon", "whole tomato", "raw sprouts", "cut leafy greens", "cut melon", "cut tomato", "cooked", "ready to eat", "dry",
)  # fmt: skip

WHOLE_PRODUCE: Final = frozenset({"raw produce", "whole leafy greens", "whole melon", "whole tomato", "raw sprouts"})
"""Ways to arrive as nature made it."""

UNDATED: Final = (
    "hard cheese", "semi-soft cheese", "cultured dairy", "preserved fish", "dry sausage", "cured meat", "deli salad",
)  # fmt: skip
"""What a plant made and packed that is exempt from date marking: FDA Food Code 3-501.17(F). Hard cheese is of 39% moisture
at the most, semi-soft of 50%; sausage and cured meat are shelf-stable."""

SOLD_AS: Final = (
    "reduced-fat cheese", "nuts or seeds", "bean dip", "dried fruit", "canned vegetable without salt", "sugar-free gum",
)  # fmt: skip
"""Foods that are free of some of the limits on what is sold beside the meals (7 CFR 210.11(c)(3), (d), (f) and (g)), and that
no other line tells. Part-skim mozzarella is one of the first, a low-sodium vegetable without fat one of the fifth."""

NONAVAILABLE: Final = "on the nonavailable list"
IMPORT_REASONS: Final = ("not available", "domestic costs more", NONAVAILABLE)
"""Why a food that is not domestic may be bought (7 CFR 210.21(d)(5)): none of enough quality is to be had in the United
States, bids show that it costs significantly more, or it is on the list of 48 CFR 25.104, which needs no paper."""

EVIDENCE: Final = (
    "regulation", "yield table", "standard of identity", "child nutrition label", "product formulation statement",
    "recipe",
)  # fmt: skip

COURSES: Final = ("entree", "side", "fruit", "vegetable", "grain", "drink", "dessert", "condiment")
PROCESSES: Final = ("no cook", "same day", "complex")
KEEPING_PLACES: Final = ("cold", "frozen", "thawed", "dry", "opened", "hot", "at room temperature")
GRAIN_METHODS: Final = ("creditable grain", "weight", "cooked volume")
PACKING_LIQUIDS: Final = ("juice", "water", "light syrup", "heavy syrup", "extra light syrup", "liquid", "oil")
