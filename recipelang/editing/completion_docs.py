"""What is told of an offer, once somebody looks at it."""

from __future__ import annotations

from recipelang.editing.amount_cards import unit_rows
from recipelang.editing.cards import Card, card_of
from recipelang.facts.recipe.batch import measures_of
from recipelang.output.columns import table
from recipelang.rules.catalogue import page
from recipelang.syntax.forms import FORMS
from recipelang.units.amount import find_unit
from recipelang.units.table import UNITS
from recipelang.workspace.workspace import Workspace


def document(workspace: Workspace, subject: str) -> Card | None:
    """The documentation of an offer's subject, with the figures as they are now; None where it is gone."""
    what, _, rest = subject.partition(" ")
    if what == "name":
        return card_of(workspace.facts, rest)
    if what == "rule":
        found = page(rest)
        if found is None:
            return None
        lines = [*found.section("Why").splitlines(), *(f"source: {one}" for one in [found.section("Source")] if one)]
        return Card(f"{rest}: {found.summary}", tuple(f"  {line}" for line in lines))
    if what == "form":
        kind, _, words = rest.partition(" ")
        example = FORMS.get(kind, {}).get(words)
        return None if example is None else Card(f"{words}: a line of a {kind}", (f"  as in: {example}",))
    if what == "unit":
        name = next((one for one in ("fl oz",) if rest.startswith(one)), rest.partition(" ")[0])
        ref = rest[len(name) :].strip()
        unit = UNITS.get(name.casefold()) or find_unit(name)
        measures = measures_of(workspace.facts, ref) if ref else None
        return Card(unit.name, tuple(table(unit_rows(unit, measures))))
    return None
