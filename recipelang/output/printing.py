"""Blocks of plain lines on standard output; on a terminal what begins in the first column stands out."""

from __future__ import annotations

import os
import sys

from recipelang.text.visible import printable


def print_blocks(blocks: list[list[str]]) -> None:
    """Blocks one after the other, a blank line between them."""
    text = printable("\n\n".join("\n".join(lines) for lines in blocks) + "\n")
    if sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        from rich.console import Console
        from rich.text import Text

        console = Console(highlight=False, soft_wrap=True)
        for line in text.rstrip("\n").split("\n"):
            console.print(Text(line, style="" if line.startswith(" ") or not line else "bold"))
        return
    sys.stdout.write(text)
