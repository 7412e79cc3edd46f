"""`compare --recipes`: recipes and variations beside each other."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.conftest import Command, library

__all__ = ["library"]


def test_what_differs_stands_in_a_row_and_the_base_first(library: Path, command: Command) -> None:
    done = command("compare", "--recipes", "plain ricotta cup", "pear ricotta cup")
    assert done.code == 0
    lines = done.out.splitlines()
    assert lines[0].split("  ")[-1].strip() == "plain ricotta cup"
    rows = {" ".join(line.split()) for line in lines}
    assert "cost of a portion $0.88 $0.68" in rows
    assert "credit of grain 1 oz eq -" in rows
    assert "contains wheat yes -" in rows
    assert not [row for row in rows if row.startswith("portions")]


def test_a_variation_alone_stands_beside_its_base(library: Path, command: Command) -> None:
    alone = command("compare", "--recipes", "plain ricotta cup")
    assert alone.out == command("compare", "--recipes", "pear ricotta cup", "plain ricotta cup").out


def test_all_figures_and_for_programs(library: Path, command: Command) -> None:
    done = command("compare", "--recipes", "pear ricotta cup", "salted pears", "--all", "--format", "json")
    found = json.loads(done.out)
    assert found["recipes"] == ["pear ricotta cup", "salted pears"]
    figures = {one["figure"]: one for one in found["figures"]}
    assert figures["portions"]["values"] == ["48", "48"]
    assert figures["cost"]["unit"] == "USD"
    assert found["caution"]


def test_as_a_table_for_a_page(library: Path, command: Command) -> None:
    lines = command("compare", "--recipes", "plain ricotta cup", "--format", "markdown").out.splitlines()
    assert lines[:2] == ["|  | pear ricotta cup | plain ricotta cup |", "| --- | --- | --- |"]


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["pear ricota cup"], "did you mean `pear ricotta cup`"),
        (["diced pears"], "is a food"),
        (["pear ricotta cup"], "is no variation"),
        (["plain ricotta cup", "--staged"], "of the library as it is"),
    ],
)
def test_what_can_not_be_done(library: Path, command: Command, arguments: list[str], why: str) -> None:
    done = command("compare", "--recipes", *arguments)
    assert done.code == 2
    assert why in done.err
