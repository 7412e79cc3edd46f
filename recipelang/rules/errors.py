"""How many errors of one area a recipe has, with those of the recipes that it is made of: for outputs that must not show a
figure beside an error in silence."""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import declaration_of, is_recipe, resolve
from recipelang.facts.recipe.circles import bases, made_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import ERROR, Finding
from recipelang.model.names import PANTRY, SPACES, Ref
from recipelang.rules.catalogue import rules
from recipelang.rules.engine import ALLOWED, check_of
from recipelang.syntax.split import fold
from recipelang.text.record import Record

SAFETY = "safety"
ALLERGENS = "allergens"


class Inherited(Record):
    """A finding of a recipe or of something that it rests on, and in what it stands."""

    name: str
    finding: Finding


def open_errors(facts: Facts, ref: Ref) -> tuple[Inherited, ...]:
    """All findings at error level of a recipe and of everything that it is made of, based on or served in: recipes, foods
    and containers of the library."""
    return tuple(one for one in _inherited(facts, ref) if one.finding.severity == ERROR)


def allowed_findings(facts: Facts, ref: Ref) -> tuple[Inherited, ...]:
    """The findings of the same that somebody has allowed and that stay in sight all the same, each with the reason."""
    return tuple(one for one in _inherited(facts, ref) if one.finding.message.startswith(ALLOWED))


def _inherited(facts: Facts, ref: Ref) -> Iterator[Inherited]:
    seen: dict[Ref, None] = {ref: None}
    waiting = [ref]
    while waiting:
        inner = (one for one in _rests_on(facts, waiting.pop()) if one not in seen and not one.startswith(PANTRY))
        for one in dict.fromkeys(inner):
            seen[one] = None
            waiting.append(one)
    for one in seen:
        name = declaration_of(facts, one).name
        yield from (Inherited(name, finding) for finding in check_of(facts, one).findings)


def _rests_on(facts: Facts, ref: Ref) -> Iterator[Ref]:
    if not is_recipe(facts, ref):
        return
    recipe = recipe_of(facts, ref)
    yield from bases(facts, ref)
    yield from made_of(facts, ref)
    for line in recipe.lines:
        target = resolve(facts, line.key, within=ref)
        if target is not None:
            yield target
    containers = [recipe.container, *(line.side_container for line in recipe.lines)]
    for one in containers:
        target = None if one is None else resolve(facts, fold(one[0]), SPACES["container"], ref)
        if target is not None:
            yield target


def errors_of(facts: Facts, ref: Ref, area: str) -> int:
    """Findings of an area at error level, of a recipe and of all that it is made of or based on."""
    known = rules()
    seen = {ref}
    waiting = [ref]
    count = 0
    while waiting:
        one = waiting.pop()
        count += sum(
            finding.severity == ERROR and known[finding.rule].area == area for finding in check_of(facts, one).findings
        )
        inner = [found for found in (*made_of(facts, one), *bases(facts, one)) if not found.startswith(PANTRY)]
        waiting += [found for found in inner if found not in seen]
        seen.update(inner)
    return count
