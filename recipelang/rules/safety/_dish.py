"""Which recipes are judged as dishes, and which where they are used."""

from __future__ import annotations

from recipelang.facts.recipe.roles import roles_of
from recipelang.rules.rule import Subject


def is_judged_here(subject: Subject) -> bool:
    """Whether what a recipe leaves open is told of it: always, unless other recipes take it on, which are judged by what
    they make of it. What is packed, served or sold as it is is judged as it is; which course it names, and whom it is
    for, is nothing to that."""
    recipe = subject.recipe
    if recipe.container is not None or recipe.offers:
        return True
    return not roles_of(subject.facts, subject.ref).is_only_a_part
