"""The district's menus are clean under the rules of their own year, and next year's break the one the README names."""

from __future__ import annotations

import json
from pathlib import Path

from tests.commands.conftest import Command

EXAMPLES = str(Path(__file__).parents[2] / "examples")


def test_they_are_clean_in_their_own_year(command: Command) -> None:
    assert command("check", "--strict", EXAMPLES).code == 0


def test_next_years_rules_break_one_week_of_breakfasts(command: Command) -> None:
    done = command("check", "--school-year", "2027-28", "--format", "json", EXAMPLES)
    (finding,) = json.loads(done.out)["findings"]
    assert (finding["rule"], finding["declaration"]) == ("added-sugars-over", "harbor breakfast week 2")
    assert "10.3% of its calories" in finding["message"]
