"""What a food says of itself, in a line, for choosing among several."""

from __future__ import annotations

from typing import Any

from recipelang.syntax import tree
from recipelang.syntax.split import Declaration


def figures_in(declaration: Declaration) -> str:
    """Its first credit, its weight, its allergens and whether it needs control, in the words of its own lines; what it does
    not say is told as such. Empty for what is no food."""
    if declaration.kind != "food":
        return ""
    from recipelang.syntax.parser import parse

    lines = parse(declaration).lines
    said = [_first(declaration, lines, tree.FoodCredit, tree.GrainGroup, tree.CreditableGrain, tree.CreditsNothing)]
    said.append(_first(declaration, lines, tree.Weighs))
    said.append(_first(declaration, lines, tree.Allergens) or "no allergen statement")
    said.append(next((line.name for line in lines if isinstance(line, tree.Fact) and line.name in _CONTROL), ""))
    return "; ".join(one for one in said if one)


_CONTROL = ("tcs", "not tcs")


def _first(declaration: Declaration, lines: tuple[Any, ...], *kinds: Any) -> str:
    found = next((line for line in lines if isinstance(line, kinds)), None)
    return "" if found is None else " ".join(declaration.text[found.start : found.end].split())
