"""`as in the pantry` gives a food all that the built-in one says, for every built-in food."""

from __future__ import annotations

from recipelang.facts.food.food import food_of
from recipelang.model.names import PANTRY
from recipelang.pantry import pantry
from recipelang.workspace.workspace import Workspace


def test_every_built_in_food_is_itself_again() -> None:
    names = [declared.name for declared in pantry().all()]
    text = "".join(f"food {name}\n    as in the pantry\n\n" for name in names)
    workspace = Workspace.of({"foods.recipe": text})
    assert len(names) > 800
    for ref in pantry().refs():
        own, built_in = food_of(workspace.facts, ref), food_of(workspace.facts, PANTRY + ref)
        assert plain(own) == plain(built_in), ref
    found = workspace.findings()
    assert not [one for one in found if one.severity == "error"]
    assert not [one for one in found if one.rule in ("internal-error", "hides-the-pantry", "unknown-name")]


def plain(food: object) -> object:
    """A food without places, which are of two declarations."""
    if isinstance(food, tuple):
        fields = getattr(food, "_fields", None)
        if fields is not None:
            return [plain(getattr(food, field)) for field in fields if field not in ("start", "end")]
        return [plain(one) for one in food]
    return food
