"""Pasted recipes: lines with the amount before the name or behind it, columns of blanks, and steps that were wrapped."""

from __future__ import annotations

import pytest

from tests.intake.conftest import BringIn
from tests.intake.test_tables import lines

CARD = """Spring Pear Cups
Makes 48 servings (3/4 cup each)

Ingredients
6 lb 4 oz whipped ricotta, well chilled
6 qt of diced pears
1/2 cup plus 2 tbsp soy sauce

Directions
1. Drain the pears in the cooler
   the night before.
2) Pipe the ricotta into cups. CCP: Hold at 41°F or below.
"""


def test_a_pasted_card(bring: BringIn) -> None:
    found = bring(CARD, "-")
    assert found.text == (
        "recipe spring pear cups\n"
        "    makes         48 portions of 3/4 cup\n\n"
        "    ingredients\n"
        "        6 lb 4 oz                 whipped ricotta, well chilled\n"
        "        6 qt                      diced pears\n"
        "        1/2 cup 2 tbsp            soy sauce\n\n"
        "    steps\n"
        "        - Drain the pears in the cooler the night before.\n"
        "        - Pipe the ricotta into cups. CCP: Hold at 41°F or below.\n"
    )
    assert not found.doubtful_count


LINES = {
    "Soy sauce to taste": ("to taste soy sauce", ""),
    "Diced pears - 6 qt": ("6 qt diced pears", ""),
    "• 6 qt diced pears": ("6 qt diced pears", ""),
    "2½ cups diced pears": ("2½ cups diced pears", ""),
    "12 diced pears": ("12 each diced pears", ""),
    "12 lb (6 qt) diced pears": ("12 lb diced pears", "beside it stood (6 qt)"),
    "3 cloves diced pears": ("3 cloves diced pears", "`clove` is no unit that is known"),
    "3 cloves garlic": ("3 each cloves garlic", "no unit stood beside the number, unless `cloves` is one"),
    "2 to 3 cups diced pears": ("to taste diced pears", "no amount can be read from `2 to 3 cups`"),
    "Diced pears": ("to taste diced pears", "no amount stood beside it"),
}


@pytest.mark.parametrize("line", LINES)
def test_a_line_gives_its_amount_and_its_name(bring: BringIn, line: str) -> None:
    found = bring(f"Pear cup\nServes 10\nIngredients\n{line}\n", "-")
    written, why = LINES[line]
    doubts = [doubt.why for doubt in found.declarations[0].doubts if doubt.place]
    assert lines(found.text) == [written]
    assert [bool(why)] * len(doubts) == [True] * len(doubts)
    assert (why in doubts[0]) if why else not doubts


def test_columns_of_blanks_and_cells_that_are_left_out(bring: BringIn) -> None:
    found = bring(
        "Pear stew\nServes 25\ndiced pears        8 lb      1 gal\nsoy sauce                    2 tbsp\n", "-"
    )
    assert lines(found.text) == ["8 lb = 1 gal diced pears", "2 tbsp soy sauce"]
    assert "makes         25 portions" in found.text


def test_pasted_cells_of_a_spreadsheet(bring: BringIn) -> None:
    found = bring("Ingredient\tWeight\tMeasure\ndiced pears\t8 lb\t1 gal\nsoy sauce\t\t2 tbsp\n", "-")
    assert lines(found.text) == ["8 lb = 1 gal diced pears", "2 tbsp soy sauce"]


def test_steps_begin_where_lines_are_numbered(bring: BringIn) -> None:
    found = bring("Pear bowl\nServes 10\n6 qt diced pears\n1 cup soy sauce\n1. Dice the pears.\n2. Serve 1 cup.\n", "-")
    assert lines(found.text) == ["6 qt diced pears", "1 cup soy sauce", "- Dice the pears.", "- Serve 1 cup."]


def test_an_ingredient_among_notes_is_still_eaten(bring: BringIn) -> None:
    found = bring("Ingredient,Amount\ndiced pears,6 qt\nNotes,\nServe cold.,\nsoy sauce,1 cup\n")
    assert lines(found.text) == ["6 qt diced pears", "1 cup soy sauce"]
    assert "it said: Serve cold." in found.text
