"""How many errors of one area a recipe has, with those of the recipes that it is made of: for outputs that must not show a
figure beside an error in silence."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.facts.recipe.circles import bases, made_of
from recipelang.findings.finding import ERROR
from recipelang.model.names import PANTRY, Ref
from recipelang.rules.catalogue import rules
from recipelang.rules.engine import check_of

SAFETY = "safety"
ALLERGENS = "allergens"


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
