"""Finding and reading a library's files. Folder links are not followed, so a loop of links is no loop here."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from recipelang.text.source import MOST_BYTES, UnreadableText, decode

CONFIG_NAME: Final = "recipelang.toml"
SUFFIX: Final = ".recipe"
_SKIPPED: Final = frozenset({"node_modules", "__pycache__"})


def root_of(path: Path) -> Path | None:
    """The nearest folder upward that holds a configuration."""
    folder = path if path.is_dir() else path.parent
    for candidate in (folder, *folder.parents):
        if (candidate / CONFIG_NAME).is_file():
            return candidate
    return None


def below_repository(folder: Path) -> str:
    """How a folder is reached from the top of the git repository that holds it, as `kitchen/`; empty where it is the top
    itself or where there is none."""
    whole = Path(os.path.abspath(folder))
    for candidate in (whole, *whole.parents):
        if (candidate / ".git").exists():
            inside = whole.relative_to(candidate).as_posix()
            return "" if inside == "." else f"{inside}/"
    return ""


def recipe_files(folder: Path, exclude: Iterable[Path] = ()) -> list[Path]:
    """All recipe files below a folder, in order of their paths; hidden and excluded folders are passed over."""
    shut = {os.path.abspath(path) for path in exclude}
    found: list[str] = []
    for base, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if sees(name) and os.path.abspath(os.path.join(base, name)) not in shut]
        found.extend(
            os.path.join(base, name)
            for name in names
            if name.endswith(SUFFIX) and os.path.abspath(os.path.join(base, name)) not in shut
        )
    found.sort()
    return [Path(name) for name in found]


def sees(folder: str) -> bool:
    """Whether a folder of this name is looked into: hidden ones and those of other tools are not."""
    return not folder.startswith(".") and folder not in _SKIPPED


def read_text(path: Path) -> str:
    """The text of a file. Raises UnreadableText with a sentence for people."""
    return decode(read_bytes(path))


def read_bytes(path: Path) -> bytes:
    """A file as it is, or one byte more of it than a text may have. Raises UnreadableText where it can't be opened, and
    for a pipe or a device, which may never end."""
    try:
        with open(path, "rb", opener=_open_at_once) as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise UnreadableText("it is no file but a pipe or a device")
            return file.read(MOST_BYTES + 1)
    except IsADirectoryError:
        raise UnreadableText("it is a folder") from None
    except OSError as error:
        raise UnreadableText((error.strerror or "it can't be opened").lower()) from None


def _open_at_once(path: str, flags: int) -> int:
    """Opens a file without waiting for the other end of a pipe."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))
