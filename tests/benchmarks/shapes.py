"""Libraries of every shape that could take more than its share of work, and how the work of a check grows with them.

    python -m tests.benchmarks.shapes

prints for each shape the exponent of its growth, counted in function calls of a check (which no other load disturbs), and
the seconds of the largest one. No shape may grow faster than n log n; one that does says why.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable
from typing import Any, NamedTuple

from recipelang.workspace.workspace import Workspace

FOOD = "food seed mix\n    not tcs, ph 3.5\n    weighs 120 g per cup\n"
HELD = "            ccp hold cold at 41 F or below up to 24 h\n"


def recipe(name: str, ingredients: str, steps: str = "", fields: str = "") -> str:
    return f"recipe {name}\n    makes 10 portions of 1 cup\n{fields}    ingredients\n{ingredients}{steps}"


def step(name: str) -> str:
    return f"    steps\n        - Mix [{name}].\n{HELD}"


def chain(n: int) -> str:
    """Each recipe is made of the one before it."""
    parts = [recipe("part 0", "        1 cup seed mix\n")]
    parts += [recipe(f"part {i}", f"        1 batch part {i - 1}\n") for i in range(1, n)]
    return FOOD + "".join(parts)


def circle(n: int) -> str:
    """All recipes are made of each other, with a tail that leads into the circle."""
    ring = [recipe(f"part {i}", f"        1 batch part {(i + 1) % n}\n") for i in range(n)]
    tail = [recipe(f"tail {i}", f"        1 batch {'part 0' if not i else f'tail {i - 1}'}\n") for i in range(n)]
    return "".join(ring + tail)


def nested_holds(n: int) -> str:
    """Each recipe holds the one before it cold."""
    parts = [recipe("part 0", "        1 cup seed mix\n", step("seed mix"))]
    parts += [recipe(f"part {i}", f"        1 cup part {i - 1}\n", step(f"part {i - 1}")) for i in range(1, n)]
    return FOOD + "".join(parts)


def diamond(n: int) -> str:
    """Two recipes a level, each made of both of the level below."""
    text = FOOD
    for i in range(n):
        below = "        1 cup seed mix\n" if not i else f"        1 cup left {i - 1}\n        1 cup right {i - 1}\n"
        text += "".join(
            recipe(f"{side} {i}", below, f"    steps\n        - Mix.\n{HELD}") for side in ("left", "right")
        )
    return text


def many_foods(n: int) -> str:
    """One recipe of many foods, each with a step and a time."""
    foods = "".join(f"food stuff {i}\n    arrives cooked\n" for i in range(n))
    steps = "".join(f"        - Add [stuff {i}].\n            work at room temperature up to 1 min\n" for i in range(n))
    return foods + recipe("mix", "".join(f"        1 cup stuff {i}\n" for i in range(n)), "    steps\n" + steps + HELD)


def alternatives(n: int) -> str:
    """One ingredient with many alternatives."""
    foods = "".join(f"food stuff {i}\n    arrives cooked\n" for i in range(n))
    lines = "        1 cup stuff 0\n" + "".join(f"        or 1 cup stuff {i}\n" for i in range(1, n))
    return foods + recipe("mix", lines, step("stuff 0"))


def words_in_a_step(n: int) -> str:
    return FOOD + recipe(
        "mix", "        1 cup seed mix\n", f"    steps\n        - {'stir ' * n}[seed mix] into the pot.\n"
    )


def allowances(n: int) -> str:
    return FOOD + recipe("mix", "        1 cup seed mix\n", "    // allow odd-number: the form says so\n" * n)


def findings(n: int) -> str:
    """Many ingredients that nothing has the name of, each allowed."""
    return recipe("mix", "".join(f"        1 cup nothing {i} // allow unknown-name: planned\n" for i in range(n)))


def unknown_names(n: int) -> str:
    """As many unknown names as there are names like them."""
    foods = "".join(f"food stuff number {i}\n    not tcs, ph 3.5\n" for i in range(n))
    return foods + "".join(recipe(f"mix {i}", f"        1 cup stuf number {i + 1000}\n") for i in range(n))


def one_food_of_all(n: int) -> str:
    """A food that is misspelled in every recipe."""
    return FOOD + "".join(recipe(f"mix {i}", "        1 cup sead mix\n") for i in range(n))


def variations(n: int) -> str:
    """Each variation is based on the one before it, and adds a line."""
    text = FOOD + recipe("mix 0", "        1 cup seed mix\n")
    return text + "".join(f"variation mix {i}\n    based on mix {i - 1}\n    add 1 cup seed mix\n" for i in range(1, n))


def snack(n: int) -> str:
    """A snack that lets students choose half of what there is."""
    foods = "".join(
        f"food bite {i}\n    credits 1/{i % 7 + 2} cup fruit per each\n    each weighs 20 g\n" for i in range(n)
    )
    lines = "".join(f"            serve bite {i}, 10\n" for i in range(n))
    head = "menu snack\n    program child care snack\n    meals ages 6-12 100\n    monday\n"
    return f"{foods}{head}        choose {n // 2}\n{lines}        end\n"


class Shape(NamedTuple):
    text: Callable[[int], str]
    size: int
    """The smaller of the two sizes that are compared; the other is twice as large."""
    most: float = 1.25
    """The exponent that it may grow with."""
    why: str = ""


SHAPES = (
    Shape(chain, 60), Shape(circle, 40), Shape(nested_holds, 40), Shape(diamond, 12), Shape(many_foods, 60),
    Shape(alternatives, 120), Shape(words_in_a_step, 400), Shape(allowances, 200), Shape(findings, 100),
    Shape(unknown_names, 40, 2.05, "each unknown name is compared with each name that is like it"),
    Shape(one_food_of_all, 60),
    Shape(variations, 30, 2.05, "so many ingredient lines are there: a variation has all lines of its base"),
    Shape(snack, 12, 2.05, "every sum that can come of a choice is kept once, and there are about as many as lines"),
)  # fmt: skip


def checked(text: str) -> None:
    """All that a check does with a text, suggestions and dependencies among it."""
    workspace = Workspace.of({"shape.recipe": text})
    for finding in workspace.findings():
        workspace.tell(finding)
    workspace.dependencies()


def calls(text: str) -> int:
    """Function calls of a check of a text, Python's own among them."""
    count = 0

    def counts(frame: Any, event: str, argument: Any) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    sys.setprofile(counts)
    try:
        checked(text)
    finally:
        sys.setprofile(None)
    return count


def exponent(shape: Shape) -> float:
    """With which power of its size the work of a shape grows."""
    checked(shape.text(3))  # what is made once, such as patterns and the pantry's index, belongs to no size
    small, large = calls(shape.text(shape.size)), calls(shape.text(2 * shape.size))
    return math.log2(large / small)


def main() -> None:
    print(f"{'shape':<20}{'n':>6}{'exponent':>10}{'most':>7}{'CPU s at 8n':>13}  why")
    for shape in SHAPES:
        found = exponent(shape)
        start = time.process_time()
        checked(shape.text(8 * shape.size))
        spent = time.process_time() - start
        name = shape.text.__name__.replace("_", " ")
        print(f"{name:<20}{shape.size:>6}{found:>10.2f}{shape.most:>7.2f}{spent:>13.2f}  {shape.why}", flush=True)


if __name__ == "__main__":
    main()
