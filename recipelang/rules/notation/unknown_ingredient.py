"""A step, or a variation, names an ingredient that the recipe does not have.

Why
    A bracketed name in a step is a promise that it is on the list: the kitchen weighs it out beforehand. A step left
    over from a base that names what the variation leaves out sends the cook looking for it.
Source
    the notation
Breaks
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
        steps
            - Portion [sliced pears] into cups.
            //         ^^^^^^^^^^^^ unknown-ingredient: "sliced pears"
Fixed
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
        steps
            - Portion [sliced peaches] into cups.
Leaves alone
    food sliced peaches
    recipe oat crumble
        makes 24 portions of 1 oz
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
        steps
            - Portion [sliced peaches]; serve with [oat crumble].
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import is_recipe, resolve
from recipelang.facts.recipe.recipe import assembly_of, recipe_of
from recipelang.findings.finding import Finding, Fix, Place, Related
from recipelang.findings.nearest import nearest
from recipelang.model.process_lines import Step
from recipelang.rules.amounts._alike import as_written
from recipelang.rules.line_edits import with_line_below
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax.split import fold
from recipelang.units.table import WORD


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if recipe.broken & {"ingredients"} or _has_broken_lines(subject):
        return
    names = {line.key: line.name for line in recipe.lines}
    names |= {line.called: line.called for line in recipe.lines if line.called}
    counted = [
        fold(f"{as_written(subject.facts, side).split()[-1]} {line.name}")
        for line in recipe.lines
        for side in line.sides
        if side.quantity.dimension == WORD
    ]
    gone = dict(assembly_of(subject.facts, subject.ref).left_out)
    nameless = [measured.line.key for measured in subject.lines if measured.ref is None]
    for step in recipe.steps:
        home = step.home
        for reference in step.references:
            key = fold(reference.name.text)
            if key in names or not key or key in counted or nearest(key, nameless, 1):
                continue  # a misspelled ingredient is reported where it is listed, and so is `2 ham sandwiches`
            spot = Place(home, reference.name.start, reference.name.end)
            if key in gone:
                yield _left_out(subject, reference.name.text, spot, gone[key], _number_of(subject, step))
                continue
            target = resolve(subject.facts, key, within=subject.ref)
            if target is not None and is_recipe(subject.facts, target):
                continue
            near = nearest(key, names, 1)
            fixes: tuple[Fix, ...] = ()
            if near and home == subject.home:
                fixes = (subject.fix(f"write `{names[near[0]]}`", spot, names[near[0]]),)
            yield subject.finding(
                spot,
                f"A step names `{reference.name.text}`, which is no ingredient of this recipe.",
                help=f"write `{names[near[0]]}`" if near else "add it to the ingredients, or write it without brackets",
                fixes=fixes,
            )


def _number_of(subject: Subject, step: Step) -> str:
    """The number of a step in the base, which a variation's lines count by."""
    recipe = subject.recipe
    base = None if recipe.base is None else resolve(subject.facts, fold(recipe.base[0]), within=subject.ref)
    steps = () if base is None else recipe_of(subject.facts, base).steps
    return str(steps.index(step) + 1) if step in steps else "…"


def _left_out(subject: Subject, name: str, spot: Place, by: Place, number: str) -> Finding:
    return subject.finding(
        by,
        f"This takes {name} out, but a step that remains still names it.",
        help=f"add `leave out step {number}` or `instead of step {number} - …`",
        related=(Related(subject.place(spot), "the step that names it"),),
        fixes=tuple(
            with_line_below(subject, line, f"leave out step {number}")
            for line in subject.body.lines
            if number.isdecimal() and by.home == subject.home and line.start <= by.start < line.end
        )[:1],
    )


def _has_broken_lines(subject: Subject) -> bool:
    """Whether an ingredient line could not be read: what it names is unknown, so nothing is known to be missing."""
    return any(word[:1].isdigit() or word in ("or", "to taste") for word in subject.recipe.broken)
