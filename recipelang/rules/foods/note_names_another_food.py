"""The note behind an ingredient makes another food of it, with figures of its own.

Why
    A pound of onions as bought has skins and ends; a pound of diced ones is all onion. Low-sodium soy sauce has half the
    salt. Where the name says one and the note the other, credits, weights, nutrients and what is ordered are those of the
    name.
Source
    the notation; common practice, no source, for which names mean one food
Breaks
    recipe onion soup base
        makes 50 portions of 1/4 cup
        ingredients
            8 lb fresh onions, chopped
            //   ^^^^^^^^^^^^ note-names-another-food: "fresh onions diced"
Fixed
    recipe onion soup base
        makes 50 portions of 1/4 cup
        ingredients
            8 lb fresh onions diced
Leaves alone
    recipe cheddar melt
        makes 50 portions of 1 oz
        ingredients
            50 oz cheddar, shredded
            1 lb quinoa, dry, rinsed
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import declaration_of, is_food, resolve, source_of
from recipelang.facts.food.food import food_of
from recipelang.findings.finding import WARNING, Edit, Figure, Finding, Fix, Place
from recipelang.model.food import Food
from recipelang.model.names import PANTRY, Ref
from recipelang.pantry import pantry
from recipelang.pantry.card_names import named_by_note
from recipelang.pantry.named_figures import figures_in
from recipelang.pantry.note_edits import Line, ingredients_in, says, writing
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.table import MASS


@rule(RECIPE, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    for line in ingredients_in(subject.body.lines):
        notes = line.notes.preparation
        ref = resolve(subject.facts, fold(line.name.text), within=subject.ref) if notes else None
        if ref is None or not is_food(subject.facts, ref) or pantry().declared(ref.removeprefix(PANTRY)) is None:
            continue
        name = declaration_of(subject.facts, ref).name
        other = named_by_note(name, ", ".join(note.text for note in notes))
        if other is None or fold(other) == fold(name):
            continue
        meant = resolve(subject.facts, fold(other), within=subject.ref)
        if meant is not None and not _is_same(
            subject, line, food_of(subject.facts, ref), food_of(subject.facts, meant)
        ):
            yield _finding(subject, line, ref, meant)


def _finding(subject: Subject, line: Line, ref: Ref, meant: Ref) -> Finding:
    name, other = declaration_of(subject.facts, ref).name, declaration_of(subject.facts, meant).name
    noted = [note for note in line.notes.preparation if says(other, note)] or list(line.notes.preparation)
    said = ", ".join(note.text for note in noted)
    text = source_of(subject.facts, subject.home).text
    edits = [Edit(Place(subject.home, start, end), written) for start, end, written in writing(text, line, other)]
    edits += [
        Edit(subject.place(part.name), other)
        for step in _steps(subject)
        for part in step.references
        if fold(part.name.text) == fold(line.name.text)
    ]
    return subject.finding(
        line.name,
        f"`{line.name.text}` with the note `{said}` counts as {name}; {other} is another food of the pantry.",
        figures=(
            Figure("named", "by name", f"{name}: {_figures(subject, ref)}"),
            Figure("noted", "by note", f"{other}: {_figures(subject, meant)}"),
        ),
        help=f"write `{other}` if that is what the amount is of; else leave the note out, and let a step say it",
        fixes=(Fix(f"write `{other}`", tuple(edits), changes_food=True),),
    )


def _steps(subject: Subject) -> Iterator[tree.Step]:
    for line in subject.body.lines:
        if isinstance(line, tree.Steps):
            yield from line.lines


def _figures(subject: Subject, ref: Ref) -> str:
    home = declaration_of(subject.facts, ref).home
    if not ref.startswith(PANTRY):
        return figures_in(source_of(subject.facts, home))
    found = pantry().declaration(home)
    return "" if found is None else figures_in(found)


def _is_same(subject: Subject, line: Line, named: Food, noted: Food) -> bool:
    """Whether both foods give the line the same figures: credits, nutrients, allergens, what is bought, and the weight of
    what is measured."""
    if named.parent != noted.parent or named.labels[:2] != noted.labels[:2] or named.nutrition != noted.nutrition:
        return False
    if _credits(named) != _credits(noted):
        return False
    amounts = [side for one in subject.lines if one.line.name_spot == subject.place(line.name) for side in one.sides]
    return all(named.measures.convert(one, MASS) == noted.measures.convert(one, MASS) for one in amounts)


def _credits(food: Food) -> object:
    lines = {(one.component, one.rate, one.node, one.basis, one.liquid, one.served) for one in food.crediting.lines}
    return lines, food.crediting.group, food.crediting.creditable
