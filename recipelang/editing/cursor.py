"""Where a cursor stands: the declaration around it, the line and the block that it is in.

A line that is still being typed has no tree, so line and block are taken from the text. How deep a line is indented
means nothing in the notation; its block is that of the nearest head above it.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import Final

from recipelang.evaluate.facts import Facts
from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Ref
from recipelang.syntax.forms import BLOCKS, first_words
from recipelang.syntax.split import STRAY, Declaration, without_comment
from recipelang.text.record import Record
from recipelang.workspace.source_file import home_of
from recipelang.workspace.workspace import Workspace

INGREDIENTS, STEPS, LEFTOVERS = BLOCKS
NUTRITION: Final = "nutrition"
_BLOCK: Final = re.compile(rf"[ \t]+({'|'.join(BLOCKS)})\b", re.IGNORECASE)


class Cursor(Record):
    """A place in a file. Offsets are those of the file."""

    workspace: Workspace
    path: str
    offset: int
    declaration: Declaration | None
    """The declaration around it; None in front of the first and in stray text."""
    home: DeclarationId
    ref: Ref | None
    """What the declaration's name means; None where another declaration has the name."""
    line: str
    """The whole line."""
    line_start: int
    block: str

    @property
    def facts(self) -> Facts:
        return self.workspace.facts

    @property
    def kind(self) -> str:
        return "" if self.declaration is None else self.declaration.kind

    @property
    def at(self) -> int:
        """The offset in the declaration's text."""
        return self.offset - (self.declaration.start if self.declaration is not None else 0)

    @property
    def head(self) -> str:
        """The line in front of the cursor."""
        return self.line[: self.offset - self.line_start]

    @property
    def tail(self) -> str:
        """The line behind the cursor, without its comment."""
        return without_comment(self.line)[self.offset - self.line_start :]

    @property
    def is_in_comment(self) -> bool:
        return without_comment(self.head) != self.head

    @property
    def is_in_header(self) -> bool:
        """Whether the line is the declaration's first, with keyword and name."""
        one = self.declaration
        return one is not None and self.line_start <= one.start + one.header < self.line_start + len(self.line) + 1


def cursor_at(workspace: Workspace, path: str, offset: int) -> Cursor:
    """The cursor of an offset in one of the workspace's files."""
    file = workspace.files[path]
    offset = min(max(offset, 0), len(file.text))
    position = file.lines.position(offset)
    line_start = file.lines.starts[position.line - 1]
    line = file.lines.line(position.line)
    place = bisect_right([one.start for one in file.declarations], offset) - 1
    found = file.declarations[place] if place >= 0 else None
    if found is None or found.kind == STRAY:
        return Cursor(
            workspace=workspace,
            path=path,
            offset=offset,
            declaration=None,
            home=DeclarationId(path, "", 0),
            ref=None,
            line=line,
            line_start=line_start,
            block="",
        )
    home = home_of(path, found)
    ref = workspace.ref_at(home)
    if ref is not None and not workspace.is_meant(home, ref):
        ref = None
    block = _block(found.kind, found.text[: max(0, line_start - found.start)])
    return Cursor(
        workspace=workspace,
        path=path,
        offset=offset,
        declaration=found,
        home=home,
        ref=ref,
        line=line,
        line_start=line_start,
        block=block,
    )


def _block(kind: str, above: str) -> str:
    """The block that goes on below some lines of a declaration."""
    for line in reversed(above.splitlines()):
        if kind == "recipe":
            match = _BLOCK.match(line)
            if match is not None:
                return match[1].casefold()
        elif kind == "food":
            words = first_words(kind, line)
            if words:
                return words if words == NUTRITION else ""
        else:
            break
    return ""
