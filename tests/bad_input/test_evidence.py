"""Evidence that names a file which is none of the library's."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipelang.editing.document_links import links_in
from recipelang.workspace.source_file import File

ELSEWHERE = ("//server/share/a.pdf", r"\\server\share\a.pdf", "/etc/passwd", "C:/a.pdf", "../outside.pdf", "x/../../outside.pdf",
             "~/a.pdf", "file://server/a.pdf")  # fmt: skip


@pytest.mark.parametrize("name", ELSEWHERE)
def test_evidence_outside_of_the_library_is_never_looked_up(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """To ask whether a file of a server is there is to log in to it: nobody asks, whatever a stranger wrote."""
    asked: list[str] = []

    def note(path: Path) -> bool:
        asked.append(str(path))
        return False

    monkeypatch.setattr(Path, "is_file", note)
    file = File("shelf/foods.recipe", f'food x\n    evidence product formulation statement, file "{name}"\n')
    assert list(links_in(file, tmp_path)) == []
    assert asked == []
