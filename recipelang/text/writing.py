"""Writing a file whole or not at all: beside it first, then renamed, so that no reader ever sees half of it."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
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


def write_new(path: Path, text: str) -> None:
    """Puts a text into a file that is not there yet, whole or not at all.

    Raises FileExistsError where something has the name, whoever was sooner, and OSError where it can't write.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
        os.chmod(name, _mode(path))
        try:
            os.link(name, path)
        except (NotImplementedError, PermissionError):  # a file system without hard links
            with open(path, "xb") as new:
                new.write(text.encode("utf-8"))
    finally:
        with contextlib.suppress(OSError):
            os.unlink(name)


def write_all(texts: Mapping[Path, bytes]) -> None:
    """Puts contents into several files, all of them or none. All are written beside first, so what can fail has failed
    before the first is put in its place; if that fails after all, those already replaced get back what they held.

    Raises OSError where it can't, and then leaves everything as it was.
    """
    beside: list[tuple[Path, str]] = []
    before: list[tuple[Path, bytes | None]] = []
    try:
        for path, content in texts.items():
            target = Path(os.path.realpath(path))
            handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
            beside.append((target, name))
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.chmod(name, _mode(target))
        for target, name in beside:
            before.append((target, target.read_bytes() if target.exists() else None))
            os.replace(name, target)
    except BaseException:
        for target, content_before in before:
            with contextlib.suppress(OSError):
                if content_before is None:
                    target.unlink(missing_ok=True)
                else:
                    target.write_bytes(content_before)
        for _, name in beside:
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
