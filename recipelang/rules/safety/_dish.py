"""Which recipes are judged as dishes, and which where they are used."""

from __future__ import annotations

from recipelang.rules.rule import Subject


def is_judged_here(subject: Subject) -> bool:
    """Whether what a recipe leaves open is told of it: always, unless another recipe takes it on and is judged by what
    it makes of it. A dough, a mix or a sauce that is also served, sold or packed as it is is judged as it is."""
    recipe = subject.recipe
    return not (not recipe.course and not recipe.audience and not recipe.offers)
