"""Tables written as text, so that a test's figures stand side by side as they do in a book.

written    | is
2 1/2 cups | 5/2 cup
"""

from __future__ import annotations


def rows(text: str) -> list[tuple[str, ...]]:
    """The rows of a table, cells parted by `|`; blank lines are passed over."""
    return [tuple(cell.strip() for cell in line.split("|")) for line in text.splitlines() if line.strip()]
