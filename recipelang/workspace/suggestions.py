"""What an unknown name may mean, worked out when a finding is shown, because every new name may change it.

A food is looked for as a set of words, those of its notes after the comma included, and offered with its figures; nothing
is taken in its place. Containers and recipes are looked for by spelling, as long as no word of one kind stands for another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from recipelang.findings.finding import Edit, Finding, Fix, Place
from recipelang.findings.nearest import nearest, sharing_words
from recipelang.model.name_occurrences import PART, mentions_in
from recipelang.pantry import pantry
from recipelang.pantry.card_names import CardNames
from recipelang.pantry.kitchen_words import words_of
from recipelang.pantry.named_figures import figures_in
from recipelang.pantry.note_edits import ingredient_at, words_to_look_for, writing
from recipelang.syntax import tree
from recipelang.syntax.split import Declaration, fold
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
        self._foods: CardNames | None = None
        self._near: dict[tuple[str, str], tuple[tuple[str, bool], ...]] = {}

    def of(self, finding: Finding) -> list[Fix]:
        """What could be written for the name that a finding calls unknown, the most likely first."""
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
        from recipelang.syntax.parser import parse

        body = parse(declaration)
        written = declaration.text[place.start : place.end]
        line = ingredient_at(body, place.start)
        text = written if line is None or wanted != "food" else words_to_look_for(line)
        return [
            self._fix(declaration, place, line, body, name, is_spelling)
            for name, is_spelling in self._nearest(wanted, fold(text), fold(written))
        ]

    def _fix(
        self, declaration: Declaration, place: Place, line: tree.Ingredient | tree.Use | None, body: tree.Body,
        name: str, is_spelling: bool,
    ) -> Fix:  # fmt: skip
        edits = [Edit(place, name)]
        if line is not None:
            edits = [Edit(Place(place.home, *span), text) for *span, text in writing(declaration.text, line, name)]
        key = fold(declaration.text[place.start : place.end])
        edits += [
            Edit(Place(place.home, one.start, one.end), name)
            for one in mentions_in(body)
            if one.role == PART and one.key == key and one.start != place.start
        ]
        figures = self._figures(name)
        return Fix(f"did you mean `{name}`?{figures and f' {figures}'}", tuple(edits), changes_food=not is_spelling)

    def _figures(self, name: str) -> str:
        """What a food says of itself, in a line; empty for what is no food."""
        key = fold(name)
        for file in self._files.values():
            for one in file.declarations:
                if one.key == key and one.kind in _KINDS["food"]:
                    return figures_in(one)
        declared = pantry().declared(key)
        found = None if declared is None else pantry().declaration(declared.home)
        return "" if found is None else figures_in(found)

    def _nearest(self, wanted: str, text: str, written: str) -> tuple[tuple[str, bool], ...]:
        """Names with whether each is what was written but for its spelling."""
        key = (wanted, text)
        if key not in self._near:
            if wanted not in self._names:
                self._names[wanted] = {fold(one): one for one in _names(self._files.values(), wanted)}
            spelled = self._names[wanted]
            if wanted == "food":
                self._near[key] = tuple(self._foods_near(text, written))
            else:
                near = nearest(written, spelled) or sharing_words(written, spelled)
                self._near[key] = tuple((spelled[one], True) for one in near)
        return self._near[key]

    def _foods_near(self, text: str, written: str) -> Iterator[tuple[str, bool]]:
        if self._foods is None:
            self._foods = CardNames(_foods(self._files.values()))
        found = self._foods.matches(text)
        if not found and not any(map(self._foods.knows, _besides(text, written))):
            found = self._foods.matches(written)  # the notes say something that nobody here has a word for
        for one in found:
            yield one.name, len(found) == 1 and one.corrected and nearest(written, [fold(one.name)], 1) != []
        if not found:
            spelled = self._names["food"]
            yield from ((spelled[one], True) for one in nearest(written, spelled) if not self._crosses(written, one))

    def _crosses(self, written: str, name: str) -> bool:
        """Whether one name has a word in the place of another that is known, too: `lemon tart` is no `lime tart`."""
        assert self._foods is not None
        return any(map(self._foods.knows, _besides(written, name)))


def _besides(text: str, other: str) -> set[str]:
    """The words of a text that another has not."""
    return {*words_of(text)} - {*words_of(other)}


def _names(files: Iterable[File], wanted: str) -> Iterator[str]:
    kinds = _KINDS[wanted]
    for file in files:
        for one in file.declarations:
            if one.kind in kinds:
                yield one.name
    if "food" in kinds:
        yield from (declared.name for declared in pantry().all())


def _foods(files: Iterable[File]) -> dict[str, tuple[str, ...]]:
    """Foods and recipes as they are written, each with what else it is called; the library's in front of the pantry's."""
    found: dict[str, tuple[str, ...]] = {}
    seen: set[str] = set()
    for file in files:
        for one in file.declarations:
            if one.kind in _KINDS["food"] and one.key not in seen:
                seen.add(one.key)
                found[one.name] = (*one.also_called, *pantry().further_names_of(one.key))
    for declared in pantry().all():
        if fold(declared.name) not in seen:
            found[declared.name] = pantry().further_names_of(fold(declared.name))
    return found
