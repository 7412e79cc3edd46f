"""A recipe or variation, read from its lines: a variation is its base's lines with some of its own in their place."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import body_of, declaration_of, is_recipe, kind_of, resolve
from recipelang.findings.finding import Place
from recipelang.model import recipe_lines, variation
from recipelang.model.names import Ref
from recipelang.model.recipe import Assembly, Recipe
from recipelang.syntax.split import fold


@fact
def base_circle_of(facts: Facts, ref: Ref) -> frozenset[Ref] | None:
    """The variations that are based on each other around one; None where its bases end. An input: see `circles.py`."""
    return None


def base_of(facts: Facts, ref: Ref) -> Ref | None:
    """The recipe or variation that a variation is based on; None for a recipe, and where nothing has the name."""
    if kind_of(facts, ref) != "variation":
        return None
    word = variation.base_word(body_of(facts, ref))
    base = None if word is None else resolve(facts, fold(word.text), within=ref)
    return base if base is not None and is_recipe(facts, base) else None


def is_based_on_itself(facts: Facts, ref: Ref, base: Ref) -> bool:
    """Whether a variation and its base are based on each other."""
    members = base_circle_of(facts, ref)
    return members is not None and base in members


@fact
def assembly_of(facts: Facts, ref: Ref) -> variation.Varied:
    """The lines of a recipe or variation."""
    declared = declaration_of(facts, ref)
    own = body_of(facts, ref)
    if declared.kind == "recipe":
        return variation.Varied(recipe_lines.assemble(own, declared.home), (), ())
    base = base_of(facts, ref)
    if base is None or is_based_on_itself(facts, ref, base):
        return variation.Varied(Assembly(), (), ())
    return variation.vary(assembly_of(facts, base).assembly, own, declared.home)


@fact
def recipe_of(facts: Facts, ref: Ref) -> Recipe:
    """The recipe or variation that a reference means; the reference must mean one."""
    declared = declaration_of(facts, ref)
    varied = assembly_of(facts, ref)
    base: tuple[str, Place] | None = None
    if declared.kind == "variation":
        word = variation.base_word(body_of(facts, ref))
        if word is not None:
            base = (word.text, Place(declared.home, word.start, word.end))
    return recipe_lines.build_recipe(
        declared.name, declared.home, varied.assembly, base, varied.problems, facts.settings.own_units
    )
