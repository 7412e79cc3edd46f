"""Texts brought in with a few names around them, and command lines in a library."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from recipelang.intake.bringing import Brought, bring_in, names_of
from recipelang.intake.cards import Asked
from recipelang.intake.headers import given_columns
from recipelang.intake.reading import read_sheets
from recipelang.workspace.workspace import Workspace
from tests.commands.conftest import command, library

__all__ = ["BringIn", "command", "library"]

BringIn = Callable[..., Brought]

FOODS = "food whipped ricotta\nfood diced pears\nfood soy sauce\n    contains soy, wheat\nrecipe pear cup\n"


@pytest.fixture
def bring() -> BringIn:
    """Brings in a text as a file of a name."""

    def one(
        text: str | bytes, name: str = "table.csv", kind: str = "", columns: str = "", per: str = "", called: str = ""
    ) -> Brought:
        data = text if isinstance(text, bytes) else text.encode()
        names = names_of(Workspace.of({"foods.recipe": FOODS}))
        asked = Asked(called, given_columns(columns) if columns else (), "spring card", per)
        return bring_in(read_sheets(name, data), kind, names, asked)

    return one
