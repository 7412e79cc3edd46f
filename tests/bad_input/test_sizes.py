"""Long lines, long files, long names: read to the end, in time and in output that grow with them and no faster."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from recipelang import Workspace
from tests.commands.conftest import Command

MEGABYTES = 10 * 1000 * 1000

LINES: dict[str, Callable[[int], str]] = {
    "a name": lambda size: "food " + "x" * size,
    "a name of words": lambda size: "food " + "x " * (size // 2),
    "an ingredient": lambda size: ingredient("1 cup " + "word " * (size // 5)),
    "blanks in an ingredient": lambda size: ingredient("1 cup" + " " * size + "oats, chilled"),
    "blanks at the end": lambda size: ingredient("1 cup oats" + " " * size),
    "notes": lambda size: ingredient("1 cup oats" + ", note" * (size // 6)),
    "columns": lambda size: ingredient("1 cup" + " | 1 cup" * (size // 8) + " oats"),
    "amounts": lambda size: ingredient("1 cup " * (size // 6) + "oats"),
    "digits": lambda size: ingredient("1" * size + " cup oats"),
    "slashes of fractions": lambda size: ingredient("1/" * (size // 2) + " cup oats"),
    "brackets": lambda size: ingredient("(" * size),
    "a step": lambda size: step("- " + "stir " * (size // 5)),
    "a step without its dash": lambda size: step("stir " * (size // 5)),
    "references": lambda size: step("- " + "[oats] " * (size // 7)),
    "open references": lambda size: step("- " + "[" * size),
    "blanks in a reference": lambda size: step("- [1" + " " * size + "oz oats" + " " * size + "per portio]"),
    "amounts in a reference": lambda size: step("- [" + "1 oz " * (size // 5) + "oats]"),
    "quotes": lambda size: "food a\n    evidence " + '" //' * (size // 4),
    "allergens": lambda size: "food a\n    contains milk" + ", milk" * (size // 6),
    "no allergens": lambda size: "food a\n    contains milk" + ", mikl" * (size // 60),
    "a component": lambda size: "food a\n    credits 1 oz eq " + "grain " * (size // 6) + "per 1 oz",
    "a nutrient": lambda size: "food a\n    nutrition per 100 g\n        " + "word " * (size // 5) + "5 g",
    "instead": lambda size: "variation a\n    use " + "instead " * (size // 8) + "of x",
    "portions": lambda size: "recipe a\n    makes 1 portions of 1 cup x" + " and 1 cup x" * (size // 120),
    "servings": lambda size: "menu a\n    monday\n        serve 1 cup x" + "; 1 cup x" * (size // 90),
    "a word at the margin": lambda size: "x" * size,
    "a comment": lambda size: "// " + "x" * size,
    "an allowance": lambda size: "food a\n    liquid // allow x" + " " * size + "y",
    "blanks": lambda size: " " * size,
    "accents to compose": lambda size: "food " + "e\u0301" * (size // 2),
    "blanks of word processors": lambda size: "food a\n    liquid" + "\u00a0" * size,
}

BLOCKS: dict[str, Callable[[int], str]] = {
    "foods": lambda count: "".join(f"food f{number}\n    weighs 5 g per cup\n" for number in range(count // 2)),
    "foods of one name": lambda count: "food f\n" * count,
    "users of a food": lambda count: (
        "food x\n    weighs 5 g per cup\n"
        + "".join(
            f"recipe r{number}\n    makes 2 portions\n    ingredients\n        1 cup x\n"
            for number in range(count // 4)
        )
    ),
    "unknown names": lambda count: "".join(
        f"recipe r{number}\n    makes 2 portions\n    ingredients\n        1 cup x{number}\n"
        for number in range(count // 4)
    ),
    "circles": lambda count: "".join(
        f"recipe r{number}\n    makes 2 portions\n    ingredients\n        1 portion r{number ^ 1}\n"
        for number in range(count // 8 * 2)
    ),
    "fields": lambda count: "food f\n" + "    weighs 5 g per cup\n" * count,
    "ingredients": lambda count: ingredient("1 cup x\n        " * count),
    "alternatives": lambda count: ingredient("1 cup x\n        " + "or 1 cup x\n        " * count),
    "steps": lambda count: step("- Stir [oats].\n        " * count),
    "process lines": lambda count: step("- Stir [oats].\n            " + "simmer for 5 min\n            " * count),
    "nonsense": lambda count: "food f\n" + "    ((\n" * count,
    "nonsense among steps": lambda count: step("x y z\n        " * count),
    "nonsense among ingredients": lambda count: ingredient("1 cup (x)\n        " * count),
    "words at the margin": lambda count: "stray\n" * count,
    "blank lines": lambda count: "food f\n" + "\n" * count,
    "comments": lambda count: "// said\n" * count + "food f\n",
    "allowances": lambda count: "food f\n" + "    // allow syntax: so\n" * count,
    "nutrients": lambda count: "food f\n    nutrition per 100 g\n" + "        sodium 5 mg\n" * count,
    "lines of a variation": lambda count: (
        ingredient("1 cup x") + "variation v\n    based on a\n" + "    leave out y\n" * count
    ),
    "servings": lambda count: "menu m\n    monday\n" + "        serve x, 5\n" * count,
    "days": lambda count: "menu m\n" + "    monday\n" * count,
}


def ingredient(line: str) -> str:
    return f"recipe a\n    makes 2 portions\n    ingredients\n        {line}\n"


def step(line: str) -> str:
    return f"food oats\n{ingredient('1 cup oats')}    steps\n        {line}\n"


def seconds(text: str) -> float:
    gc.collect()
    begin = time.process_time()
    Workspace.of({"a.recipe": text}).findings()
    return time.process_time() - begin


def grows_evenly(make: Callable[[int], str], size: int) -> None:
    """Ten times as much takes about ten times as long. The bound is loose, because machines are busy and caches small;
    what grows with the square takes a hundred times as long, and three tries."""
    small = max(min(seconds(make(size)) for _ in range(3)), 0.001)
    ratios: list[float] = []
    for _ in range(3):
        ratios.append(seconds(make(size * 10)) / small)
        if ratios[-1] < 30:
            return
    raise AssertionError(f"ten times as much took {min(ratios):.0f} times as long")


@pytest.mark.parametrize("what", LINES)
def test_a_long_line_costs_what_its_length_is(what: str) -> None:
    grows_evenly(LINES[what], 10_000)


@pytest.mark.parametrize("what", BLOCKS)
def test_many_lines_cost_what_their_number_is(what: str) -> None:
    grows_evenly(BLOCKS[what], 400)


@pytest.mark.parametrize("what", ["a name", "an ingredient", "blanks in an ingredient", "digits", "a step", "quotes"])
def test_ten_megabytes_on_a_line_are_read(library: Path, command: Command, what: str) -> None:
    """And told in a screen, however much is quoted."""
    (library / "long.recipe").write_text(LINES[what](MEGABYTES), encoding="utf-8")
    done = command("check", "--no-cache")
    assert done.code in (0, 1)
    assert len(done.out) < 10_000
    assert done.err == ""


def test_a_hundred_thousand_lines_are_read(library: Path, command: Command) -> None:
    recipe = "recipe pears {}\n    makes 48 portions of 1/2 cup\n    ingredients\n        6 qt diced pears\n\n"
    text = "".join(recipe.format(number) for number in range(20_000))
    (library / "long.recipe").write_text(text, encoding="utf-8")
    done = command("check", "--no-cache")
    assert (done.code, done.err) == (0, "")
    assert "(20008 declarations)" in done.out


def test_a_hundred_thousand_faults_are_cut_and_counted(library: Path, command: Command) -> None:
    (library / "long.recipe").write_text("food x\n" + "    nonsense\n" * 100_000, encoding="utf-8")
    done = command("check", "--no-cache")
    assert done.code == 1
    assert "too-many-findings" in done.out
    assert len(done.out) < 3_000_000
