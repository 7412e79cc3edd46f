"""Libraries drawn at random that can be computed with: foods that say a little or a lot, recipes made of them and of
each other. Amounts are exact and can be scaled; every name is a word of its own, so that it can be renamed."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import Any, NamedTuple

from hypothesis import strategies as st

import recipelang
from recipelang import Workspace
from recipelang.syntax.split import split

UNITS = ("cup", "tbsp", "qt", "oz", "lb", "g", "each", "fl oz")
CREDITS = (
    "1/4 cup fruit per 1/4 cup",
    "1 cup dark green vegetable per 2 cup",
    "1/4 cup red/orange vegetable per 2 oz",
    "1/4 cup other vegetable per 1 each",
    "1 oz eq meat/meat alternate per 2 oz",
    "1 oz eq grain per 1 each",
    "1/8 cup starchy vegetable per 1/8 cup",
)
NUTRIENTS = ("calories {} ", "sodium {} mg", "protein {} g", "total fat {} g", "calcium {} mg")
LABELS = ("contains milk", "contains wheat, soy", "contains none of the nine", "contains egg\n    may contain sesame")
NAMES = ("apricot", "barley", "celery", "dill", "endive", "fennel", "guava", "hominy")
DISHES = ("bake", "crumble", "mash", "salad", "stew")


class Food(NamedTuple):
    name: str
    weighs: str
    each: str
    credits: tuple[str, ...]
    contains: str
    nutrition: str
    price: str

    def text(self) -> str:
        lines = (self.weighs, self.each, *self.credits, self.contains, self.nutrition, self.price)
        return "\n    ".join((f"food {self.name}", *filter(None, lines))) + "\n"


class Ingredient(NamedTuple):
    amount: Fraction
    unit: str
    name: str
    note: str = ""

    def text(self) -> str:
        return f"{amount_text(self.amount)} {self.unit} {self.name}{self.note}"


class Recipe(NamedTuple):
    name: str
    portions: Fraction
    claims: str
    ingredients: tuple[Ingredient, ...]

    def text(self) -> str:
        head = [f"recipe {self.name}", f"    makes {amount_text(self.portions)} portions", "    process no cook"]
        lines = [f"        {one.text()}" for one in self.ingredients]
        claims = [f"    {self.claims}"] if self.claims else []
        return "\n".join([*head, *claims, "    ingredients", *lines]) + "\n"


class Library(NamedTuple):
    foods: tuple[Food, ...]
    recipes: tuple[Recipe, ...]

    def texts(self) -> list[str]:
        return [one.text() for one in (*self.foods, *self.recipes)]

    def text(self) -> str:
        return "\n".join(self.texts())

    def foods_in(self, recipe: Recipe) -> set[str]:
        """The names of all foods a recipe is made of, through its sub-recipes."""
        known = {one.name: one for one in self.recipes}
        found: set[str] = set()
        for line in recipe.ingredients:
            found |= self.foods_in(known[line.name]) if line.name in known else {line.name}
        return found


def amount_text(value: Fraction) -> str:
    """An amount as a mixed number, which no denominator turns into a name (`80/20`)."""
    whole, rest = divmod(value, 1)
    return f"{whole} {rest}" if rest else str(whole)


eighths = st.integers(1, 80).map(lambda number: Fraction(number, 8))


@st.composite
def foods(draw: st.DrawFn, name: str) -> Food:
    def maybe(text: str) -> str:
        return text if draw(st.booleans()) else ""

    values = draw(st.lists(st.integers(0, 40), min_size=len(NUTRIENTS), max_size=len(NUTRIENTS)))
    stated = [form.format(value) for form, value in zip(NUTRIENTS, values, strict=True) if draw(st.booleans())]
    return Food(
        name,
        maybe(f"weighs {draw(st.integers(40, 300))} g per cup"),
        maybe(f"each weighs {draw(st.integers(5, 90))} g"),
        tuple(f"credits {one}" for one in draw(st.sets(st.sampled_from(CREDITS), max_size=2))),
        maybe(draw(st.sampled_from(LABELS))),
        "\n        ".join(["nutrition per 100 g", *stated]) if stated else "",
        maybe(f"price {draw(st.integers(1, 9))} per lb"),
    )


@st.composite
def libraries(draw: st.DrawFn) -> Library:
    names = draw(st.permutations(NAMES))[: draw(st.integers(1, 4))]
    made = tuple(draw(foods(name)) for name in names)
    recipes: list[Recipe] = []
    for dish in draw(st.permutations(DISHES))[: draw(st.integers(1, 3))]:
        known = st.sampled_from([*names, *(one.name for one in recipes)])
        lines = draw(
            st.lists(
                st.builds(Ingredient, eighths, st.sampled_from(UNITS), known, st.sampled_from(("", "", ", optional"))),
                min_size=1,
                max_size=4,
            )
        )
        dishes = {one.name for one in recipes}
        lines = [line._replace(unit="portions") if line.name in dishes else line for line in lines]
        claims = draw(st.sampled_from(("", "made without milk, peanuts", "credits 1/8 cup red/orange vegetable")))
        recipes.append(Recipe(dish, Fraction(draw(st.integers(1, 40))), claims, tuple(lines)))
    return Library(made, tuple(recipes))


def workspace_of(text: str) -> Workspace:
    return Workspace.of({"library.recipe": text})


def figures(text: str, *names: str) -> dict[str, Any]:
    """Every figure of the recipes of a library."""
    workspace = workspace_of(text)
    return {name: recipelang.figures(workspace, name) for name in names}


def unordered(value: Any) -> Any:
    """Figures with lists in an order of their own, for comparing what was written in another order."""
    if isinstance(value, dict):
        return {key: unordered(one) for key, one in value.items()}
    if isinstance(value, list):
        return sorted((unordered(one) for one in value), key=lambda one: json.dumps(one, sort_keys=True))
    return value


def renamed(text: str, names: dict[str, str]) -> str:
    """A text with names put in the place of others, all at once."""
    if not names:
        return text
    pattern = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    folded = {name.casefold(): new for name, new in names.items()}
    return re.sub(rf"(?<![\w-])(?:{pattern})(?![\w-])", lambda match: folded[match[0].casefold()], text, flags=re.I)


def names_in(text: str) -> list[str]:
    """The names that a text declares."""
    return list(dict.fromkeys(one.name for one in split(text) if one.name))
