"""Doubts: what could not be brought in for sure, as a comment that stays until somebody has looked."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from recipelang.intake.rows import Origin, Row, Sheet, one_line
from recipelang.text.record import Record

MARK: Final = "doubtful:"
"""How the comment of a doubt begins; the rule `doubtful-line` finds it."""


class Doubt(Record):
    why: str
    original: str
    """What stood there, as it was printed."""
    place: Origin | None = None
    """Where it stood; None for what is missing, or was said on the command line."""

    @property
    def comment(self) -> str:
        said = f"; it said: {one_line(self.original)}" if self.original else ""
        return f"// {MARK} {one_line(self.why)}{said}"


class Line(Record):
    """A line of a declaration without its indentation, and what is doubtful about it. A line without text is a doubt
    alone: what it said stands in its comment only."""

    text: str
    doubts: tuple[Doubt, ...] = ()


class Drafted(Record):
    """A declaration as it was brought in."""

    kind: str
    name: str
    blocks: tuple[tuple[str, tuple[Line, ...]], ...]
    """Its lines in their blocks: the fields under an empty word, then `ingredients`, `steps`, `nutrition per 100 g`."""
    remarks: tuple[str, ...] = ()
    """What stands above it as plain comments: where it comes from."""

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        return tuple(doubt for _, lines in self.blocks for line in lines for doubt in line.doubts)

    @property
    def line_count(self) -> int:
        return sum(1 for _, lines in self.blocks for line in lines if line.text or line.doubts)

    @property
    def text(self) -> str:
        """It in the notation, not yet laid out."""
        written = [f"// {one_line(remark)}" for remark in self.remarks]
        written.append(f"{self.kind} {self.name}")
        for word, lines in self.blocks:
            if word and lines:
                written.append(f"    {word}")
            indent = "        " if word else "    "
            for line in lines:
                written += [f"{indent}{doubt.comment}" for doubt in line.doubts]
                if line.text:
                    written.append(f"{indent}{line.text}")
        return "\n".join(written) + "\n"


def doubt_of(sheet: Sheet, row: Row, reasons: Iterable[str]) -> tuple[Doubt, ...]:
    """One doubt with all reasons that there are to doubt a row; none where there is no reason."""
    why = "; ".join(dict.fromkeys(filter(None, (*reasons, *row.doubts))))
    return (Doubt(why, row.original, sheet.place(row)),) if why else ()
