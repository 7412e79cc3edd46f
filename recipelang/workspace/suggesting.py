"""Near names for an unknown one. Worked out when a finding is shown, because every new name may change them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from recipelang.findings.finding import Finding
from recipelang.findings.nearest import nearest
from recipelang.pantry import pantry
from recipelang.syntax.split import fold
from recipelang.workspace.filing import File

_EDIBLES: Final = frozenset({"food", "recipe", "variation"})
_CONTAINERS: Final = frozenset({"container"})


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
    spelt = {fold(one): one for one in _names(files.values(), "`container " in finding.mend)}
    return [(f"did you mean `{spelt[one]}`?", spelt[one]) for one in nearest(fold(name), spelt)]


def _names(files: Iterable[File], containers: bool) -> Iterable[str]:
    kinds = _CONTAINERS if containers else _EDIBLES
    for file in files:
        for one in file.declarations:
            if one.kind in kinds:
                yield one.name
    if not containers:
        yield from (declared.name for declared in pantry().all())
