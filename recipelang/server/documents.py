"""The texts that stand in the client's editor, kept exactly as the client has them, and places in them."""

from __future__ import annotations

import os
import re
from typing import Any, Final

from lsprotocol import types
from pygls import uris

from recipelang.text.encoding import code_points
from recipelang.text.source import fold_line_ends

_LINE_END: Final = re.compile(r"\r\n|\r|\n")
_MARK: Final = "\ufeff"


class Document:
    """One open text. Lines end as the protocol says: at `\\n`, `\\r\\n` or `\\r`, and nowhere else."""

    __slots__ = ("_starts", "path", "raw", "uri", "version")

    def __init__(self, uri: str, version: int, raw: str) -> None:
        self.uri = uri
        self.path = path_of(uri)
        self.version = version
        self.raw = raw
        self._starts: list[int] | None = None

    @property
    def has_mark(self) -> bool:
        """Whether the text begins with a byte-order mark, which is no part of what it says."""
        return self.raw.startswith(_MARK)

    @property
    def text(self) -> str:
        """What the text says, with line ends folded. Lines and columns are those of the client, but for the mark."""
        return fold_line_ends(self.raw.removeprefix(_MARK))

    def change(self, changes: Any, version: int, encoding: str) -> None:
        """Makes a client's changes, in their order."""
        for one in changes:
            if isinstance(one, types.TextDocumentContentChangePartial):
                start = self._offset(one.range.start, encoding)
                end = max(start, self._offset(one.range.end, encoding))
                self.raw = self.raw[:start] + one.text + self.raw[end:]
            else:
                self.raw = one.text
            self._starts = None
        self.version = version

    def _offset(self, position: types.Position, encoding: str) -> int:
        if self._starts is None:
            self._starts = [0, *(end.end() for end in _LINE_END.finditer(self.raw))]
        starts = self._starts
        if position.line >= len(starts):
            return len(self.raw)
        start = starts[position.line]
        end = starts[position.line + 1] if position.line + 1 < len(starts) else len(self.raw)
        line = self.raw[start:end].rstrip("\r\n")
        return start + code_points(line, position.character, encoding)


def path_of(uri: str) -> str:
    """The absolute path of a document; for one that is no file, a path that no file has."""
    try:
        path = uris.to_fs_path(uri)
    except ValueError:  # no URI at all
        path = None
    if path is None or "\0" in path:
        return os.path.join(os.path.abspath(os.sep), re.sub(r"[/\\\0]", "|", uri))
    return os.path.abspath(path)


class Documents:
    """All open texts by the path of their file."""

    def __init__(self) -> None:
        self._by_path: dict[str, Document] = {}

    def open(self, uri: str, version: int, text: str) -> Document:
        document = Document(uri, version, text)
        self._by_path[document.path] = document
        return document

    def close(self, uri: str) -> Document | None:
        return self._by_path.pop(path_of(uri), None)

    def at(self, path: str) -> Document | None:
        return self._by_path.get(path)

    def of(self, uri: str) -> Document | None:
        return self._by_path.get(path_of(uri))

    def uri_of(self, path: str) -> str:
        """How the client calls a file: as it wrote it, where it has the file open."""
        document = self._by_path.get(path)
        if document is not None:
            return document.uri
        uri: str = uris.from_fs_path(path)
        return uri

    def __iter__(self) -> Any:
        return iter(self._by_path.values())
