"""Plain tables: cells padded to columns, numbers to the right."""

from __future__ import annotations

from collections.abc import Sequence


def table(rows: Sequence[Sequence[str]], right: frozenset[int] = frozenset(), indent: str = "  ") -> list[str]:
    """Rows as lines of equal columns; columns named in `right` are set to the right."""
    if not rows:
        return []
    widths = [max(len(row[column]) for row in rows if column < len(row)) for column in range(max(map(len, rows)))]
    lines: list[str] = []
    for row in rows:
        cells = [
            cell.rjust(widths[column]) if column in right else cell.ljust(widths[column])
            for column, cell in enumerate(row)
        ]
        lines.append(indent + "  ".join(cells).rstrip())
    return lines
