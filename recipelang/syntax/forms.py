"""The line forms of each kind of declaration: its first words and an example that reads.

Messages, completion and the editors' highlighters all take their keywords from here; a test reads every example with
the grammar and compares the keywords with the grammar's, so they can't drift.
"""

from __future__ import annotations

from typing import Final

_CREDIT = "credits 1 oz eq meat/meat alternate per 2 oz as served"

FORMS: Final[dict[str, dict[str, str]]] = {
    "food": {
        "as in the pantry": "as in the pantry",
        "item": "item 48213, harbor produce",
        "also called": "also called garbanzo beans, ceci beans",
        "pack": "pack 4 tubs of 5 lb",
        "price": "price 38.60 per case",
        "usda foods": "usda foods",
        "domestic": "domestic",
        "imported": "imported, not available, 2026-06-01",
        "sold as": "sold as bean dip",
        "liquid": "liquid",
        "juice": "juice",
        "no date mark": "no date mark, hard cheese",
        "yogurt": "yogurt",
        "breakfast cereal": "breakfast cereal",
        "whole grain-rich": "whole grain-rich",
        "grain-based dessert": "grain-based dessert",
        "tcs": "tcs",
        "not tcs": "not tcs",
        "ph": "ph 4.2, water activity 0.90",
        "water activity": "water activity 0.85",
        "milk": "milk fat-free, unflavored",
        "caffeine": "caffeine 30 mg per each",
        "packed in": "packed in juice",
        "weighs": "weighs 245 g per cup",
        "each weighs": "each weighs 57 g",
        "label read": "label read 2026-08-01",
        "contains": "contains milk, tree nuts: almond",
        "may contain": "may contain soy",
        "arrives": "arrives ready to eat",
        "keeps": "keeps 21 d cold, 5 d opened",
        "credits": _CREDIT,
        "grain group": "grain group B",
        "creditable grain": "creditable grain 100%, whole",
        "other grain": "other grain 2 g per each",
        "evidence": "evidence product formulation statement, 2026-03-01",
        "left from": "left from canned peaches, 34% by weight",
        "nutrition": "nutrition per 100 g",
    },
    "container": {
        "holds": "holds 12 fl oz",
        "headspace": "headspace 1/2 fl oz",
        "price": "price 0.11 each",
        "fits": "fits 2 of naan round",
    },
    "recipe": {
        "number": "number B-12",
        "course": "course entree",
        "makes": "makes 50 portions of 3/4 cup",
        "in": "in clear cup 12",
        "for": "for breakfast, lunch; grades K-5, 6-8",
        "process": "process no cook",
        "credits": "credits 1 oz eq grain, 1/2 cup fruit",
        "made without": "made without peanuts, tree nuts",
        "keeps": "keeps 72 h cold",
        "serve with": "serve with 4 oz portion spoon",
        "tested": "tested 2026-03-02, 50 portions",
        "pans": "pans 2 sheet pans 18 x 26 in, cut 5 x 10",
        "batch at most": "batch at most 200 portions",
        "yields": "yields 24 cups",
        "weighs": "weighs 245 g per cup",
        "each weighs": "each weighs 57 g",
        "loses": "loses 12% in baking",
        "shared fryer": "shared fryer",
        "whole grain-rich": "whole grain-rich",
        "grain-based dessert": "grain-based dessert",
        "tcs": "tcs",
        "not tcs": "not tcs, water activity 0.80",
        "offers": "offers breakfast for grades 9-12",
        "tray for": "tray for breakfast, grades 9-12",
        "grains by": "grains by creditable grain, group D",
        "ingredients": "ingredients",
        "or": "or 5 lb canned pears drained",
        "to taste": "to taste ground cinnamon",
        "steps": "steps",
        "leftovers": "leftovers",
        "ccp": "ccp cook to 165 F for 15 s",
        "cook at": "cook at 350 F for 16 to 18 min in convection oven",
        "simmer": "simmer for 90 min",
        "boil": "boil for 8 to 10 min",
        "rest": "rest for 12 h cold at 41 F",
        "work at room temperature": "work at room temperature up to 30 min",
        "cook to": "cook to 165 F for 15 s",
        "reheat to": "reheat to 165 F for 15 s within 2 h",
        "microwave to": "microwave to 165 F, stand covered 2 min",
        "hold hot": "hold hot at 135 F or above up to 4 h",
        "hold cold": "hold cold at 41 F or below up to 72 h",
        "hold without temperature control": "hold without temperature control up to 4 h",
        "chill from": "chill from 135 F to 70 F within 2 h, then to 41 F within 4 h more",
        "chill to": "chill to 41 F within 6 h in all",
        "thaw": "thaw in cold running water",
        "freeze": "freeze",
        "transport": "transport cold up to 2 h",
    },
    "variation": {
        "based on": "based on apricot ricotta cup",
        "use": "use canned pears drained instead of canned apricots drained",
        "leave out": "leave out toasted oat crumble",
        "leave out step": "leave out step 3",
        "add": "add 50 each graham square, on the side",
        "instead of step": "instead of step 3 - Pack the inserts.",
        "after step": "after step 2 - Dust with cinnamon.",
        "credit": "credit canned pinto beans drained as vegetable",
        "change": "change credits 1/4 cup fruit",
    },
    "menu": {
        "program": "program breakfast",
        "offer versus serve": "offer versus serve",
        "vegetables for grains": "vegetables for grains",
        "site": "site harbor house",
        "starts": "starts 2026-09-14, 2026-10-05",
        "meals": "meals 9-12 240",
        "every day": "every day",
        "monday": "monday",
        "tuesday": "tuesday",
        "wednesday": "wednesday",
        "thursday": "thursday",
        "friday": "friday",
        "saturday": "saturday",
        "sunday": "sunday",
        "choose": "choose 1",
        "end": "end",
        "serve": "serve apricot ricotta cup, 240",
        "sell": "sell apricot ricotta cup, 20, at 2.25",
    },
    "calendar": {"closed": "closed 2026-10-12 to 2026-10-13"},
}

TYPED: Final = (
    "ccp", "cook at", "simmer", "boil", "rest", "work at room temperature", "cook to", "reheat to", "microwave to", "hold hot",
    "hold cold", "hold without temperature control", "chill from", "chill to", "thaw", "freeze", "transport",
)  # fmt: skip
"""First words of the process lines, which a variation may hold too."""

BLOCKS: Final = ("ingredients", "steps", "leftovers")
"""First words of a recipe's lines that open a block."""

IN_BLOCKS: Final = frozenset({*TYPED, "or", "to taste", *BLOCKS})
"""First words of a recipe's lines that are no fields."""

for _word in TYPED:
    FORMS["variation"][_word] = FORMS["recipe"][_word]
FORMS["variation"]["or"] = "or cook at 325 F for 20 min in conventional oven"


def first_words(kind: str, line: str) -> str:
    """The longest keyword of this kind of declaration that a line begins with, or empty."""
    words = line.casefold().split()
    forms = FORMS.get(kind, {})
    for count in range(min(4, len(words)), 0, -1):
        phrase = " ".join(words[:count]).rstrip(",")
        if phrase in forms:
            return phrase
    return ""
