"""Vim's syntax file as Neovim reads it: names are whole, and what is no name is not in them."""

from __future__ import annotations

from typing import Final

import pytest

from tests.editors.sessions import CLIENTS, drive, from_readme, missing, program

TEXT: Final = """recipe hot milk // warm
    ingredients
        6 qt      hot milk // from the case
        or 2 #10 cans             2% milk, discard 30% // c
        to taste  10-inch tortilla
    steps
        - Cook at 350 F, then add [2 oz hot milk].
            ccp cook to 165 F
menu week
    monday
        serve     fat-free milk half pint, 90; 2 each hot cinnamon roll for grades 9-12, counts as 2 items
        sell      2% milk, 40   // cold
        serve     1/2 cup chili // hot
"""
COLOURS: Final = {
    1: {"Kind": "recipe", "Name": "hot milk", "Comment": "// warm"},
    2: {"RecipeBlock": "ingredients"},
    3: {"Number": "6", "Unit": "qt", "Ingredient": "hot milk", "Comment": "// from the case"},
    4: {"Taste": "or", "Ingredient": "2% milk", "NoteWord": "discard", "Percent": "30", "Comment": "// c"},
    5: {"Taste": "to taste", "Ingredient": "10-inch tortilla"},
    7: {"Number": "2", "Unit": "oz", "Reference": "hot milk"},
    8: {"ControlPoint": "ccp", "RecipeTyped": "cook to", "Number": "165", "Unit": "F"},
    10: {"MenuBlock": "monday"},
    11: {"MenuField": "serve", "ServedName": "fat-free milk half pint|hot cinnamon roll", "Inside": "for|counts as|items"},
    12: {"MenuField": "sell", "ServedName": "2% milk", "Number": "40", "Comment": "// cold"},
    13: {"Number": "1/2", "Unit": "cup", "ServedName": "chili", "Comment": "// hot"},
}  # fmt: skip


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> list[list[tuple[str, str]]]:
    if missing("nvim"):
        pytest.skip(f"nvim is not installed: {'; '.join(missing('nvim'))}")
    home = tmp_path_factory.mktemp("colors")
    (home / "init.lua").write_text(from_readme("neovim", "lua").replace("vim.lsp.enable", "-- "), encoding="utf-8")
    text = home / "text.recipe"
    text.write_text(TEXT, encoding="utf-8")
    script = str(CLIENTS / "colors.vim")
    found = drive([program("nvim"), "--headless", "-u", str(home / "init.lua"), "-S", script, str(text)], home, home)
    assert "lines" in found, found["printed"]
    return [[(group, part) for group, part in line] for line in found["lines"]]


@pytest.mark.parametrize("number", COLOURS)
def test_a_line(number: int, seen: list[list[tuple[str, str]]]) -> None:
    for group, texts in COLOURS[number].items():
        assert "|".join(part.strip() for found, part in seen[number - 1] if found == group and part.strip()) == texts
