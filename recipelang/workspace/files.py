"""Finding and reading a library's files.

Folder links are not followed, so a loop of links is no loop here. A link to a file is followed only inside the library that
it stands in: a stranger's library can't have `/etc/passwd` printed, or another folder's recipe rewritten.
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterable
from pathlib import Path
from typing import IO, Final

from recipelang.text.source import MOST_BYTES, UnreadableText, decode

CONFIG_NAME: Final = "recipelang.toml"
SUFFIX: Final = ".recipe"
MOST_INCLUDED: Final = 50_000
"""Files and folders below a folder to include. Looking through a whole disk would take minutes, and find no recipes."""
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
    top = _repository_of(whole)
    inside = "." if top is None else whole.relative_to(top).as_posix()
    return "" if inside == "." else f"{inside}/"


def _repository_of(folder: Path) -> Path | None:
    """The top of the git repository that holds a folder, given as a whole path."""
    return next((candidate for candidate in (folder, *folder.parents) if (candidate / ".git").exists()), None)


def recipe_files(folder: Path, exclude: Iterable[Path] = (), unreadable: dict[Path, str] | None = None) -> list[Path]:
    """All recipe files below a folder, in order of their paths; hidden and excluded folders are passed over. Folders that
    can't be opened are put into `unreadable`, each with why."""

    def note(error: OSError) -> None:
        if unreadable is not None:
            unreadable[Path(error.filename)] = (
                f"the folder can't be opened: {(error.strerror or 'no reason given').lower()}"
            )

    shut = {os.path.abspath(path) for path in exclude}
    found: list[str] = []
    for base, folders, names in os.walk(folder, onerror=note):
        folders[:] = [name for name in folders if sees(name) and os.path.abspath(os.path.join(base, name)) not in shut]
        found.extend(
            os.path.join(base, name)
            for name in names
            if name.endswith(SUFFIX) and os.path.abspath(os.path.join(base, name)) not in shut
        )
    found.sort()
    return [Path(name) for name in found]


def is_too_large(folder: Path) -> bool:
    """Whether a folder to include holds more than anybody's recipes: `/`, or a home folder."""
    count = 0
    for _, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if sees(name)]
        count += len(folders) + len(names)
        if count > MOST_INCLUDED:
            return True
    return False


def sees(folder: str) -> bool:
    """Whether a folder of this name is looked into: hidden ones and those of other tools are not."""
    return not folder.startswith(".") and folder not in _SKIPPED


def read_text(path: Path) -> str:
    """The text of a file. Raises UnreadableText with a sentence for people."""
    return decode(read_bytes(path))


def read_bytes(path: Path) -> bytes:
    """A file as it is, or one byte more of it than a text may have. Raises UnreadableText where it can't be opened, for a
    link that leads out of its library, and for a pipe or a device, which may never end."""
    try:
        with _opened(path) as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise UnreadableText("it is no file but a pipe or a device")
            return file.read(MOST_BYTES + 1)
    except IsADirectoryError:
        raise UnreadableText("it is a folder") from None
    except OSError as error:
        raise UnreadableText((error.strerror or "it can't be opened").lower()) from None


def leads_out(path: Path) -> bool:
    """Whether a file is a link to something outside of the library that it stands in; where there is no library, outside
    of its repository, or else of its folder."""
    if not path.is_symlink():
        return False
    whole = Path(os.path.abspath(path))
    home = os.path.realpath(root_of(whole.parent) or _repository_of(whole.parent) or whole.parent)
    return not os.path.realpath(whole).startswith(home.rstrip(os.sep) + os.sep)


def _opened(path: Path) -> IO[bytes]:
    """A file opened without waiting for the other end of a pipe. A link is opened once it is known where it leads."""
    if hasattr(os, "O_NOFOLLOW"):  # elsewhere every file is looked at twice
        try:
            return open(path, "rb", opener=_open_no_link)
        except OSError as error:
            if error.errno not in (errno.ELOOP, errno.EMLINK) or not path.is_symlink():
                raise
    if leads_out(path):
        raise UnreadableText("it is a link that leads out of the library; name the file itself, or put a copy here")
    return open(os.path.realpath(path), "rb", opener=_open_no_link)


def _open_no_link(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0))
