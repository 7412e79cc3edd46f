"""Texts of the tool that an editor can open: the rules' pages and the pantry, written where they can be read and not
changed. They are made again when the tool changes."""

from __future__ import annotations

import contextlib
import os
from functools import lru_cache
from pathlib import Path
from typing import Final

from recipelang.pantry import pantry_folder
from recipelang.rules.catalogue import page, rules
from recipelang.text.cache_folder import cache_folder
from recipelang.text.writing import write_whole
from recipelang.workspace.fingerprint import fingerprint


@lru_cache(maxsize=512)
def page_path(rule: str) -> Path:
    """A rule's page as a file. Raises nothing where it can't be written: then nobody can open it."""
    from recipelang.output.explanation import page_text

    found = page(rule)
    text = "" if found is None else page_text(found, rules()[rule])
    return _written(_folder() / "rules" / f"{rule}.md", text)


@lru_cache(maxsize=512)
def pantry_path(name: str) -> Path:
    """A file of the pantry, by the path that its declarations have."""
    text = (pantry_folder() / name.removeprefix("pantry/")).read_text(encoding="utf-8")
    return _written(_folder() / name, text)


def figures_path(name: str, text: str) -> Path | None:
    """A text of figures as a file, as it is now; None where it can't be written."""
    plain = "".join(letter if letter.isalnum() or letter in " -" else "-" for letter in name).strip()
    path = _folder() / "figures" / f"{plain[:_LONGEST]}.txt"
    try:
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, text)
            path.chmod(0o444)
    except OSError:
        return None
    return path


_LONGEST: Final = 60
"""Letters of a file's name, each of up to four bytes."""


def is_ours(path: str) -> bool:
    """Whether a file is one of these: nothing is to be said of it."""
    return path.startswith(str(_folder()) + os.sep)


@lru_cache(maxsize=1)
def _folder() -> Path:
    return Path(os.path.abspath(cache_folder())) / "reading" / fingerprint().hex()[:12]


def _written(path: Path, text: str) -> Path:
    if not path.exists():
        with contextlib.suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, text)
            path.chmod(0o444)
    return path
