"""Writing a file whole or not at all: beside it first, then renamed, so that no reader ever sees half of it."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Puts a text into a file as UTF-8 with line feeds, keeping the rights of one that is there; a link keeps pointing.

    Raises OSError where it can't, and then leaves everything as it was.
    """
    target = Path(os.path.realpath(path))
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
        os.chmod(name, _mode(target))
        os.replace(name, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _mode(path: Path) -> int:
    """The rights of a file, or those that a new one gets here."""
    try:
        return path.stat().st_mode & 0o7777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
