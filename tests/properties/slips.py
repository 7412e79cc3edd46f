"""Slips of a tired author, each one change of a library without a fault, and the one rule that should speak of it.

A slip is planted in one declaration. Rules are covered by their own manual pages as well: an example that breaks the
rule and its fixed form are a slip, too.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from recipelang.syntax.split import split

CLEAN = (Path(__file__).parent / "clean.recipe").read_text(encoding="utf-8")


class Slip(NamedTuple):
    name: str
    rules: tuple[str, ...]
    """The rule that speaks of it; `allergen-unknown` besides, where a promise rests on what can't be read: that one
    stands at the promise, whatever is reported elsewhere."""
    declaration: str
    """The declaration it is planted in."""
    old: str
    new: str

    def planted(self, text: str) -> str:
        assert text.count(self.old) == 1, self
        return text.replace(self.old, self.new)


def declarations(text: str = CLEAN) -> dict[str, str]:
    """The texts of a library's declarations by name."""
    return {one.name: one.text for one in split(text) if one.name}


RICOTTA, CUP, ROLL = "whipped ricotta", "apricot ricotta cup", "harbor roll"
DRAINED, VARIED, MENU = "canned apricots drained", "ricotta cup in milk", "harbor breakfast week 1"

SLIPS = tuple(
    Slip(f"{rules}: {declaration}: {new.strip() or 'lost ' + old.strip()}", tuple(rules.split()), declaration, old, new)
    for rules, declaration, old, new in (
        # words of the notation
        ("syntax", RICOTTA, "    weighs  ", "    wieghs  "),
        ("syntax", RICOTTA, "    weighs        245 g", "    weighs245 g"),
        ("syntax", RICOTTA, "245 g per cup", "245 g pro cup"),
        ("syntax", RICOTTA, "245 g per cup", "245 g per cup (packed)"),
        ("syntax", RICOTTA, "price         38.60", "price         $38.60"),
        ("syntax", RICOTTA, "nutrition per 100 g", "nutritoin per 100 g"),
        ("syntax", RICOTTA, "nutrition per 100 g", "nutrition for 100 g"),
        ("dimension-mismatch", RICOTTA, "105 mg", "105 mgg"),
        ("syntax", RICOTTA, "label read    2026-08-01", "label read    August"),
        ("syntax allergen-unknown", RICOTTA, "contains      milk", "contians      milk"),
        ("syntax allergen-unknown", RICOTTA, "contains      milk", "contains      mikl"),
        ("syntax", RICOTTA, "arrives       ready to eat", "arrives       ready to eet"),
        ("syntax", RICOTTA, "evidence      product", "evidenc       product"),
        ("syntax", RICOTTA, "evidence      product formulation", "evidence      produkt formulation"),
        ("syntax", RICOTTA, "1 oz eq meat/meat alternate", "1 oz meat/meat alternate"),
        ("syntax", RICOTTA, "meat/meat alternate", "meet alternate"),
        ("syntax", RICOTTA, "credits       1 oz eq", "credit        1 oz eq"),
        ("syntax", RICOTTA, "pack          4 tubs of 5 lb", "pack          4 tubs à 5 lb"),
        ("syntax allergen-unknown", RICOTTA, "food whipped ricotta", "fod whipped ricotta"),
        ("syntax", DRAINED, "64% of canned", "64% off canned"),
        ("syntax", "clear cup 12", "holds   ", "hold    "),
        ("syntax", "clear cup 12", "12 fl oz", "12 flo oz"),
        ("syntax", CUP, "    ingredients\n", "    ingrediants\n"),
        ("syntax", CUP, "    ingredients\n", "    ingredients:\n"),
        ("syntax", CUP, "    ingredients\n", "    ((\n"),
        ("syntax", CUP, "    steps\n", "    stepps\n"),
        ("syntax", CUP, "    steps\n", "    ((\n"),
        ("syntax", CUP, "    leftovers\n", "    leftover\n"),
        ("syntax", CUP, "makes         50 portions", "maeks         50 portions"),
        ("syntax", CUP, "50 portions of 3/4 cup", "50 portoins of 3/4 cup"),
        ("syntax", CUP, "course        entree", "course        entry"),
        ("syntax", CUP, "process       no cook", "process       raw"),
        ("syntax", CUP, "in            clear", "inn           clear"),
        ("syntax", CUP, "credits       1 oz eq", "credits       1 oz"),
        ("syntax", CUP, "peanuts, tree nuts", "peanuts; tree nuts"),
        ("syntax", CUP, "peanuts, tree nuts", "peanuts, tree nutz"),
        (
            "syntax",
            CUP,
            "12 lb = 6 qt 1 cup           canned apricots",
            "12 lb = 6 qt 1 cup           (canned) apricots",
        ),
        ("syntax", CUP, "12 lb = 6 qt 1 cup  ", "12# = 6 qt 1 cup    "),
        ("syntax", CUP, "        - Drain [fruit] in", "        Drain [fruit] in"),
        ("syntax", CUP, "        - Drain [fruit] in", "        -Drain [fruit] in"),
        ("syntax", CUP, "        - Drain [fruit] in", "        * Drain [fruit] in"),
        ("syntax", CUP, "41 F or below up to 24 h", "41 degrees or below up to 24 h"),
        ("syntax", CUP, "into the cups, spoon", "\n        into the cups, spoon"),
        ("syntax", CUP, "recipe apricot", "recpie apricot"),
        ("syntax", CUP, "recipe apricot", "Recipe: apricot"),
        ("syntax", CUP, "72 h cold\n    tested", "72 h chilled\n    tested"),
        ("syntax", ROLL, "group B", "group K"),
        ("syntax", VARIED, "based on      apricot", "basd on       apricot"),
        ("syntax", VARIED, "    add           12 1/2 cup", "    ad            12 1/2 cup"),
        ("syntax", VARIED, "change        number", "chnage        number"),
        ("syntax", VARIED, "change        number B-13", "change        nummer B-13"),
        ("syntax", VARIED, "instead of step 2 -", "instead of step 2:"),
        ("syntax", MENU, "    monday\n", "    mondy\n"),
        ("syntax", MENU, "    tuesday\n", "    tuseday\n"),
        ("syntax", MENU, "        choose 1\n", "        chose 1\n"),
        ("syntax", MENU, "        end\n", "        ende\n"),
        ("syntax", MENU, "serve harbor roll", "serv harbor roll"),
        ("syntax", MENU, "160; 1 cup", "160, 1 cup"),
        ("syntax", MENU, "program  ", "programm "),
        ("syntax", "brindle cove", "to 2026-10-13", "until 2026-10-13"),
        # lines in their places
        ("misplaced-line", RICOTTA, "    nutrition per 100 g\n", ""),
        ("misplaced-line", CUP, "    ingredients\n", ""),
        ("misplaced-line", CUP, "    steps\n", ""),
        ("misplaced-line", MENU, "    monday\n", ""),
        ("misplaced-line", MENU, "        choose 1\n", ""),
        ("misplaced-line", MENU, "        end\n        serve", "        serve"),
        ("misplaced-line", CUP, "    ingredients\n", "    ingredients\n    number        B-13\n"),
        ("misplaced-line", VARIED, "    add           12", "    ccp thaw cold\n    add           12"),
        # fields
        (
            "repeated-field",
            CUP,
            "    process       no cook\n",
            "    process       no cook\n    process       no cook\n",
        ),
        ("repeated-field", RICOTTA, "sodium            105 mg\n", "sodium            105 mg\n        sodium  100 mg\n"),
        ("missing-field", CUP, "    makes         50 portions of 3/4 cup\n", ""),
        ("missing-field", "clear cup 12", "    holds         12 fl oz\n", ""),
        ("missing-field", VARIED, "    based on      apricot ricotta cup\n", ""),
        # names
        ("unknown-name", CUP, "3 1/2 cups  whipped ricotta", "3 1/2 cups  wipped ricotta"),
        ("unknown-name", CUP, "in            clear cup 12", "in            clear cup 21"),
        ("unknown-name", VARIED, "based on      apricot", "based on      aprikot"),
        ("unknown-name", VARIED, "12 1/2 cup low-fat milk", "12 1/2 cup lo-fat milk"),
        ("unknown-name", DRAINED, "64% of canned apricots", "64% of caned apricots"),
        ("unknown-ingredient", CUP, "- Drain [fruit]", "- Drain [friut]"),
        ("unknown-ingredient", CUP, "[2 oz whipped ricotta per portion]", "[2 oz wipped ricotta per portion]"),
        ("unknown-ingredient", VARIED, "instead of step 2", "instead of step 7"),
        ("unused-ingredient", VARIED, "pour [low-fat milk] in, ", ""),
        (
            "circular-recipe allergen-unknown",
            CUP,
            "    steps\n        - D",
            "        1 portion   apricot ricotta cup, called it\n    steps\n        - Stir in [it] and d",
        ),
        ("circular-recipe", VARIED, "based on      apricot ricotta cup", "based on      ricotta cup in milk"),
        # amounts
        ("impossible-amount", CUP, "12 lb = 6 qt 1 cup  ", "0 lb = 6 qt 1 cup   "),
        ("impossible-amount", CUP, "12 lb = 6 qt 1 cup  ", "-12 lb = 6 qt 1 cup "),
        ("impossible-amount", RICOTTA, "245 g per cup", "245/0 g per cup"),
        ("impossible-amount", ROLL, "100 portions", "0 portions"),
        ("impossible-amount", DRAINED, "64% of", "640% of"),
        ("impossible-amount", "clear cup 12", "12 fl oz", "0 fl oz"),
        ("dimension-mismatch", "clear cup 12", "12 fl oz", "12 oz"),
        ("dimension-mismatch", RICOTTA, "keeps         21 d", "keeps         21 g"),
        ("unknown-unit", CUP, "12 lb = 6 qt 1 cup  ", "2 pails = 6 qt 1 cup"),
        ("weight-measure-disagree", CUP, "12 lb = 6 qt 1 cup", "12 lb = 6 qt 3 cups"),
        ("amounts-used-disagree", CUP, "[2 oz whipped", "[3 oz whipped"),
        ("yield-disagrees", CUP, "of 3/4 cup", "of 1 1/4 cups"),
        ("yield-disagrees", ROLL, "1 1/2 oz", "2 oz"),
        ("overfilled-container", "clear cup 12", "12 fl oz", "4 fl oz"),
        # credits, allergens, cost
        ("claim-too-high", CUP, "1/2 cup fruit\n", "5/8 cup fruit\n"),
        ("claim-too-high", CUP, "1 oz eq meat", "2 oz eq meat"),
        ("claim-too-high", ROLL, "1 1/4 oz eq grain", "1 1/2 oz eq grain"),
        ("undocumented-credit", RICOTTA, "    evidence      product formulation statement, 2026-03-01\n", ""),
        ("uncredited-grain", ROLL, "    grains by     creditable grain, group B\n", ""),
        ("allergen-claim-broken", CUP, "peanuts, tree nuts", "peanuts, milk"),
        ("allergen-claim-broken", ROLL, "made without  peanuts", "made without  wheat"),
        ("gluten-claim", ROLL, "made without  peanuts", "made without  gluten"),
        ("allergen-kind-missing", RICOTTA, "contains      milk", "contains      milk, fish"),
        ("missing-price", RICOTTA, "    price         38.60 per case\n", ""),
        # allowances
        (
            "unused-allowance",
            CUP,
            "    number        B-12",
            "    // allow claim-too-high: never\n    number        B-12",
        ),
        (
            "allowance-without-reason",
            CUP,
            "    number        B-12",
            "    // allow claim-too-high\n    number        B-12",
        ),
    )
)
