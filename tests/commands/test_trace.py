"""`recipelang trace`: every kind of figure, step by step, and the steps add up to the figure."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

from recipelang.units.amount import read_amount
from recipelang.units.numbers import read_number
from tests.commands.conftest import Command

NUMBER = r"\d+/\d+|\d+ \d+/\d+|\d+(?:\.\d+)?"


def trace(command: Command, name: str, *figure: str) -> list[str]:
    done = command("trace", name, *figure)
    assert done.code == 0, done.err
    assert done.err == ""
    return done.out.splitlines()


def parts(lines: list[str], pattern: str) -> list[Fraction]:
    """The contributions: one figure from each line between the heading and `together` or `ingredients`."""
    found: list[Fraction] = []
    for line in lines[1:]:
        if re.match(r"  (?:together|ingredients|filled|rounded)", line):
            break
        match = re.search(pattern, line)
        assert match, line
        found.append(read_number(match[1]))
    return found


def after(lines: list[str], words: str) -> Fraction:
    """The figure that follows some words."""
    for line in lines:
        match = re.search(rf"{re.escape(words)}:? \$?({NUMBER})", line)
        if match:
            return read_number(match[1])
    raise AssertionError(f"{words!r} is not in {lines}")


def evaluated(command: Command, name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads(command("evaluate", name, "--format", "json").out)["recipes"][0]
    return found


@pytest.mark.parametrize(
    ("component", "each"),
    [("fruit", "1/2"), ("meat alternate", "1"), ("meat/meat alternate", "1"), ("m/ma", "1"), ("grain", "1")],
)
def test_credits(library: Path, command: Command, component: str, each: str) -> None:
    """Contributions, their sum, the division, the rounding, and the evidence it rests on."""
    lines = trace(command, "pear ricotta cup", "credits", *component.split())
    assert sum(parts(lines, rf"({NUMBER}) (?:oz eq|cups?)$")) == after(lines, "together")
    assert after(lines, "together") / 48 == Fraction(each) == after(lines, "portions")
    assert after(lines, "credits") == Fraction(each)
    assert any("rounded down once to the nearest" in line for line in lines)
    assert any("(the library)" in line for line in lines), "evidence"


def test_all_credits_at_once(library: Path, command: Command) -> None:
    shown = "\n".join(trace(command, "pear ricotta cup", "credits"))
    for component in ("meat/meat alternate", "grain", "fruit"):
        assert f"pear ricotta cup: credits {component}" in shown


def test_nutrients(library: Path, command: Command) -> None:
    lines = trace(command, "pear ricotta cup", "sodium")
    total = after(lines, "together")
    assert sum(parts(lines, rf"({NUMBER}) mg")) == total == Fraction("9681.6")
    assert round(total / 48, 2) == after(lines, "for each of 48 portions")
    assert any("100 mg per 100 g (library)" in line for line in lines)


def test_cost(library: Path, command: Command) -> None:
    """Cents are shown, exact dollars are added: the sum of what is printed may be a cent off, never more."""
    lines = trace(command, "pear ricotta cup", "cost")
    shown = parts(lines, r"\$(\d+\.\d\d)")
    assert abs(sum(shown) - after(lines, "together")) <= Fraction(len(shown), 200)
    cost = evaluated(command, "pear ricotta cup")["cost"]
    assert isinstance(cost, dict)
    assert after(lines, "together") == Fraction(cost["batch"])
    assert after(lines, "portions") == Fraction("0.88")


def test_yield(library: Path, command: Command) -> None:
    """Weights are shown to the quarter ounce, so the parts agree with the whole to an eighth of an ounce each."""
    lines = trace(command, "pear ricotta cup", "yield")
    weights = []
    for line in lines[1:4]:
        match = re.search(r"(\d+ lb(?: [\d/ ]+oz)?)", line)
        assert match
        quantity = read_amount(match[1]).quantity
        assert quantity is not None
        weights.append(quantity.base)
    whole = read_amount(next(line for line in lines if "  ingredients: " in line).split(": ")[1]).quantity
    assert whole is not None
    assert abs(sum(weights) - whole.base) <= 4 * Fraction("28.35") / 8
    assert any("summed, because nothing is cooked" in line for line in lines)


def test_fill(library: Path, command: Command) -> None:
    lines = trace(command, "pear ricotta cup", "fill")
    assert abs(sum(parts(lines, rf"({NUMBER}) fl oz")) - after(lines, "filled")) <= Fraction(1, 10)
    assert any("holds 12 fl oz, 11 1/2 fl oz below its headspace" in line for line in lines)


def test_allergens(library: Path, command: Command) -> None:
    """Every road by which an allergen arrives, through recipes to the food whose label names it."""
    text = "recipe cup tray\n    makes 48 portions\n    ingredients\n        48 portions pear ricotta cup\n    steps\n        - Set out [pear ricotta cup].\n"
    (library / "tray.recipe").write_text(text, encoding="utf-8")
    lines = trace(command, "cup tray", "allergens", "milk")
    assert lines[0] == "cup tray: allergens milk"
    assert lines[1] == "  contains, through pear ricotta cup → whipped ricotta"
    assert "Check every package" in lines[-1]
    assert "may contain, through pear ricotta cup → diced pears" in "\n".join(
        trace(command, "cup tray", "allergens", "soy")
    )


def test_an_allergen_that_nothing_names_is_not_called_absent(library: Path, command: Command) -> None:
    shown = "\n".join(trace(command, "pear ricotta cup", "allergens", "egg"))
    assert "no label that was read names it" in shown
    assert "free" not in shown


def test_an_unknown_allergen_statement_is_said(library: Path, command: Command) -> None:
    text = "food secret sauce\n    weighs 240 g per cup\nrecipe saucy pears\n    makes 10 portions\n    ingredients\n        1 cup secret sauce\n"
    (library / "sauce.recipe").write_text(text, encoding="utf-8")
    assert "  unknown: secret sauce makes no allergen statement" in trace(command, "saucy pears", "allergens", "egg")


def test_what_is_missing_is_named_with_its_reason(library: Path, command: Command) -> None:
    lines = trace(command, "salted pears", "sodium")
    assert any(line.startswith("  missing: sea salt, because") for line in lines)
    assert any("unknown" in line and "sea salt" in line for line in lines)


@pytest.mark.parametrize(
    ("figure", "words"),
    [
        ("sodum", "did you mean `sodium`"),
        ("credits fruits and nuts", "is not a meal component"),
        ("allergens kiwi", "is not one of the nine allergens"),
        ("taste", "is no figure of a recipe"),
    ],
)
def test_an_unknown_figure_is_2_and_says_which_there_are(
    library: Path, command: Command, figure: str, words: str
) -> None:
    done = command("trace", "pear ricotta cup", *figure.split())
    assert (done.code, done.out) == (2, "")
    assert words in done.err
    assert done.err.count("\n") == 1


def test_an_unknown_recipe_gets_the_nearest(library: Path, command: Command) -> None:
    done = command("trace", "pear ricota cup", "cost")
    assert done.code == 2
    assert "did you mean `pear ricotta cup`" in done.err
