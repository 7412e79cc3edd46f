"""Near names for an unknown one. Worked out when a finding is shown, because every new name may change them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from recipelang.findings.finding import Finding
from recipelang.findings.nearest import nearest, sharing_words
from recipelang.pantry import pantry
from recipelang.syntax.split import fold
from recipelang.workspace.source_file import File

_KINDS: Final = {
    "container": frozenset({"container"}),
    "recipe": frozenset({"recipe", "variation"}),
    "food": frozenset({"food", "recipe", "variation"}),
}
"""What may stand in the place of a name, by the kind of declaration that the finding's fix proposes to add."""


def suggestions(files: Mapping[str, File], finding: Finding) -> list[tuple[str, str]]:
    """Titles and replacements for the name that a finding calls unknown."""
    if finding.rule != "unknown-name":
        return []
    place = finding.place
    file = files.get(place.home.path)
    declaration = None if file is None else file.by_home.get(place.home)
    if declaration is None:
        return []
    name = declaration.text[place.start : place.end]
    wanted = next((kind for kind in _KINDS if f"`{kind} " in finding.help), None)
    if wanted is None:
        return []  # the name is known, and of the wrong kind
    spelt = {fold(one): one for one in _names(files.values(), wanted)}
    folded = fold(name)
    near = nearest(folded, spelt) or sharing_words(folded, spelt)
    return [(f"did you mean `{spelt[one]}`?", spelt[one]) for one in near]


def _names(files: Iterable[File], wanted: str) -> Iterable[str]:
    kinds = _KINDS[wanted]
    for file in files:
        for one in file.declarations:
            if one.kind in kinds:
                yield one.name
    if "food" in kinds:
        yield from (declared.name for declared in pantry().all())
