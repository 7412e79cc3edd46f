"""The published recipes' expectations, read from the TOML files beside them; README.md says what each table means."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from recipelang.units.amount import Quantity, read_amount

FOLDER = Path(__file__).parent
STRICT = "strict"


class Credit(NamedTuple):
    """What one portion credits of a component or a vegetable subgroup."""

    card: str
    recipe: str
    component: str
    subgroup: str | None
    exact: Fraction | None
    rounded: str | None
    """The exact figure rounded to the places that are written, where no short fraction says it."""
    credited: Fraction
    published: Fraction
    """As the card claims it; 0: it claims none."""
    basis: str

    @property
    def is_strict(self) -> bool:
        return self.basis == STRICT

    def __str__(self) -> str:
        strength = "" if self.is_strict else "-weak"
        return f"{self.recipe}-{self.subgroup or self.component}{strength}"


class Expected(NamedTuple):
    """A finding that must come."""

    card: str
    recipe: str
    rule: str
    severity: str
    says: str
    help: str
    """A word of the way out it must show, where one is worth holding to."""

    def __str__(self) -> str:
        return f"{self.recipe}-{self.rule}-{self.says}"


class Cell(NamedTuple):
    """A cell of a column that is not in proportion to the first column."""

    card: str
    recipe: str
    food: str
    column: int
    cell: Quantity
    proportional: Quantity
    off: str
    steps: Fraction
    severity: str

    def __str__(self) -> str:
        return f"{self.recipe}-{self.food}-{self.column}-{self.cell.dimension}"


class Nutrient(NamedTuple):
    """A published figure of a portion, and how far ours may be from it."""

    card: str
    recipe: str
    name: str
    published: Fraction
    unit: str
    tolerance: Fraction

    def __str__(self) -> str:
        return f"{self.recipe}-{self.name}"


class Purchase(NamedTuple):
    """Ounces bought and ounces ready to cook, of a card's purchase guide; the row of a yield table that explains them."""

    card: str
    food: str
    purchased: Fraction
    ready: Fraction
    implied: Fraction
    row: Fraction | None

    def __str__(self) -> str:
        return f"{self.card}-{self.food}"


def cards() -> dict[str, dict[str, Any]]:
    """The TOML files by the name of their recipe file."""
    return {
        path.stem: tomllib.loads(path.read_text("utf-8"), parse_float=Fraction)
        for path in sorted(FOLDER.glob("*.toml"))
        if path.stem != "arithmetic"
    }


def tables(name: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every entry of a table of all cards, with its card."""
    for card, table in CARDS.items():
        for entry in table.get(name, ()):
            yield card, entry


CARDS = cards()

CREDITS = [
    Credit(
        card, one["recipe"], one["component"], one.get("subgroup"),
        Fraction(one["exact"]) if "exact" in one else None, one.get("rounded"),
        Fraction(one["credited"]), Fraction(one["published"]), one["basis"],
    )
    for card, one in tables("credits")
]  # fmt: skip

FINDINGS = [
    Expected(card, one["recipe"], one["rule"], one["severity"], one["says"], one.get("help", ""))
    for card, one in tables("findings")
]


def quantity(text: str) -> Quantity:
    """An amount of a TOML file, `33/2 oz`."""
    found = read_amount(text).quantity
    assert found is not None, text
    return found


COLUMNS = [
    Cell(
        card, one["recipe"], one["food"], one["column"], quantity(one["cell"]), quantity(one["proportional"]),
        one["off"], Fraction(one["steps"]), one["severity"],
    )
    for card, one in tables("columns")
]  # fmt: skip

NUTRIENTS = [
    Nutrient(
        card, one["recipe"], name, Fraction(one["published"]), one["unit"], Fraction(one["tolerance"])
    )
    for card, table in CARDS.items()
    for name, one in table.get("nutrients", {}).items()
]  # fmt: skip

PURCHASES = [
    Purchase(
        card, one["food"], Fraction(one["purchased-oz"]), Fraction(one["ready-oz"]), Fraction(one["yield"]),
        Fraction(one["row"]) if "row" in one else None,
    )
    for card, one in tables("purchase")
]  # fmt: skip
