"""Where things of a version stand in its real files: lines of declarations, and findings in lines and columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from recipelang.findings.finding import Edit, Finding, Fix, Place, Related
from recipelang.versions.inventory import Held, Inventory, written_place
from recipelang.versions.sources import Version
from recipelang.workspace.files import CONFIG_NAME
from recipelang.workspace.report import LocatedFinding, tell
from recipelang.workspace.source_file import File


def line_of(inventory: Inventory, held: Held, said_line: int | None = None) -> int:
    """The line of a file, from 1, on which a line of what a declaration says stands; of its header, where none is
    given."""
    said = held.piece.main
    written = held.piece.written[0]
    within = written.text.count("\n", 0, written.header) if said_line is None else said.written_line(said_line)
    file = inventory.files.get(held.path)
    return (0 if file is None else file.text.count("\n", 0, written.start)) + within + 1


class Files(Mapping[str, File]):
    """The files of a version, cut when they are asked for."""

    def __init__(self, inventory: Inventory) -> None:
        self._inventory = inventory
        self._made: dict[str, File] = {}

    def __getitem__(self, path: str) -> File:
        made = self._made.get(path)
        if made is None:
            made = self._made[path] = File(path, self._inventory.files[path].text)
        return made

    def __iter__(self) -> Iterator[str]:
        return iter(self._inventory.files)

    def __len__(self) -> int:
        return len(self._inventory.files)


class Locating:
    """Findings of one version in lines and columns."""

    def __init__(self, version: Version, inventory: Inventory | None = None) -> None:
        self._inventory = version.inventory if inventory is None else inventory
        self._files = Files(version.inventory)
        self._elsewhere = {CONFIG_NAME: version.config_text}

    def located(self, finding: Finding) -> LocatedFinding:
        """A finding where it stands in the version's own files."""
        return tell(self._files, self._elsewhere, self._written(finding), lambda _: [])

    def _written(self, finding: Finding) -> Finding:
        place = self._place(finding.place)
        return finding._replace(
            place=finding.place if place is None else place,
            related=tuple(
                Related(found, one.message) for one in finding.related if (found := self._place(one.place)) is not None
            ),
            fixes=tuple(fix for one in finding.fixes if (fix := self._fix(one)) is not None),
        )

    def _fix(self, fix: Fix) -> Fix | None:
        edits = [(self._place(edit.place), edit.text) for edit in fix.edits]
        if any(place is None for place, _ in edits):
            return None
        return fix._replace(edits=tuple(Edit(place, text) for place, text in edits if place is not None))

    def _place(self, place: Place) -> Place | None:
        return written_place(self._inventory, place)
