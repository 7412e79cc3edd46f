"""Which recipes are judged as dishes, and which where they are used."""

from __future__ import annotations

from recipelang.evaluate.names import resolve
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.roles import roles_of
from recipelang.facts.recipe.timeline import timeline_of
from recipelang.rules.rule import Subject


def is_judged_here(subject: Subject) -> bool:
    """Whether what a recipe leaves open is told of it: always, unless other recipes take it on, which are judged by what
    they make of it. What is packed, served or sold as it is is judged as it is; which course it names, and whom it is
    for, is nothing to that."""
    recipe = subject.recipe
    if recipe.container is not None or recipe.offers:
        return True
    return not roles_of(subject.facts, subject.ref).is_only_a_part


def is_left_raw(subject: Subject) -> bool:
    """Whether a recipe that takes this one on leaves what is raw in it raw."""
    facts = subject.facts
    for user in roles_of(facts, subject.ref).used_by:
        timeline = timeline_of(facts, user)
        lines = recipe_of(facts, user).lines
        for lot in timeline.lots:
            if (
                lot.first.raw
                and timeline.end_of(lot).raw
                and resolve(facts, lines[lot.line].key, within=user) == subject.ref
            ):
                return True
    return False
