"""The library that every editor works on: a food, two files that use it, and one slip."""

from __future__ import annotations

from pathlib import Path

CONFIG = '[library]\nname = "Brindle Cove Schools, central kitchen"\nschool-year = "2026-27"\n'

FOODS = """food whipped ricotta
    price         1.93 per lb
    label read    2026-08-01
    contains      milk
    arrives       ready to eat
    tcs
    weighs        245 g per cup
    credits       1 oz eq meat/meat alternate per 2 oz as served
    evidence      product formulation statement, 2026-03-01
"""

CUP = """recipe ricotta cup
    makes         48 portions of 1/4 cup
    process       no cook
    credits       1 oz eq meat/meat alternate

    ingredients
        6 lb 8 oz                 whiped ricotta

    steps
        - Pipe [whipped ricotta] into the cups.
            ccp hold cold at 41 F or below up to 24 h
"""

BOWL = """recipe ricotta bowl
    makes         24 portions of 1/2 cup
    process       no cook

    ingredients
        6 lb 8 oz                 whipped ricotta

    steps
        - Scoop [whipped ricotta] into the bowls.
            ccp hold cold at 41 F or below up to 24 h
"""

LOOSE = "recipe  plain cup\n  makes 4 portions of 1cup\n"
LAID_OUT = "recipe plain cup\n    makes         4 portions of 1 cup\n"

SLIP = "whiped ricotta"
FOOD = "whipped ricotta"
NEW_NAME = "harbor ricotta"
BEGUN = "        2 lb                      whi"
"""An ingredient line as far as an author has typed it when completion is asked for."""


def write_library(folder: Path) -> Path:
    """Puts the library into a folder and gives the file with the slip."""
    (folder / "recipes").mkdir(parents=True)
    (folder / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
    (folder / "foods.recipe").write_text(FOODS, encoding="utf-8")
    (folder / "recipes" / "bowl.recipe").write_text(BOWL, encoding="utf-8")
    (folder / "recipes" / "loose.recipe").write_text(LOOSE, encoding="utf-8")
    cup = folder / "recipes" / "cup.recipe"
    cup.write_text(CUP, encoding="utf-8")
    return cup
