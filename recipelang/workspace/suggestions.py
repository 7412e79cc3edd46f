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


class Suggestions:
    """The names of some files, gathered once, and what is near to those asked for: a name that many findings call
    unknown is compared once."""

    def __init__(self, files: Mapping[str, File]) -> None:
        self._files = files
        self._names: dict[str, dict[str, str]] = {}
        """By what is wanted: folded names, with each as it is written."""
        self._near: dict[tuple[str, str], tuple[str, ...]] = {}

    def of(self, finding: Finding) -> list[tuple[str, str]]:
        """Titles and replacements for the name that a finding calls unknown."""
        if finding.rule != "unknown-name":
            return []
        place = finding.place
        file = self._files.get(place.home.path)
        declaration = None if file is None else file.by_home.get(place.home)
        if declaration is None:
            return []
        wanted = next((kind for kind in _KINDS if f"`{kind} " in finding.help), None)
        if wanted is None:
            return []  # the name is known, and of the wrong kind
        near = self._nearest(wanted, fold(declaration.text[place.start : place.end]))
        return [(f"did you mean `{name}`?", name) for name in near]

    def _nearest(self, wanted: str, name: str) -> tuple[str, ...]:
        key = (wanted, name)
        if key not in self._near:
            if wanted not in self._names:
                self._names[wanted] = {fold(one): one for one in _names(self._files.values(), wanted)}
            spelled = self._names[wanted]
            self._near[key] = tuple(spelled[one] for one in nearest(name, spelled) or sharing_words(name, spelled))
        return self._near[key]


def _names(files: Iterable[File], wanted: str) -> Iterable[str]:
    kinds = _KINDS[wanted]
    for file in files:
        for one in file.declarations:
            if one.kind in kinds:
                yield one.name
    if "food" in kinds:
        yield from (declared.name for declared in pantry().all())
