"""What commands share that imagine something of a library."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from recipelang.commands import CommandError
from recipelang.versions.imagined import CantImagine, with_lines
from recipelang.versions.sources import Reader
from recipelang.workspace.disk import root_for


def imagined_texts(paths: Sequence[Path], lines: Sequence[str]) -> dict[str, str]:
    """The files of the library around paths in which lines say something else, as they would be. Raises CommandError."""
    root, is_library = root_for(paths)
    reader = Reader(root, is_library)
    version = reader.working_tree()
    texts: dict[str, str] = {}
    try:
        for words in lines:
            texts = with_lines(version, texts, words).texts
    except CantImagine as error:
        raise CommandError(str(error)) from None
    return texts
