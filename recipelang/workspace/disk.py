"""The files of a library as they lie on disk: found, read, hashed, not yet understood."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from hashlib import blake2b
from pathlib import Path

from recipelang.text.record import Record
from recipelang.text.source import UnreadableText
from recipelang.workspace.files import CONFIG_NAME, read_bytes, recipe_files, root_of


class FilesOnDisk(Record):
    """Everything a check reads. Paths are relative to the root, with `/`."""

    root: Path
    config: bytes | None
    """The configuration file as it is; None where there is none."""
    data: dict[str, bytes]
    digests: dict[str, bytes]
    unreadable: dict[str, str]
    supplying: frozenset[str]
    """Files of `include` folders: they supply names, never findings."""
    exclude: tuple[str, ...]

    def relative(self, path: Path) -> str:
        """A path as findings print it."""
        return relative_to(self.root, path)

    def is_excluded(self, path: Path) -> bool:
        name = self.relative(path) + "/"
        return any(name.startswith(one.rstrip("/") + "/") for one in self.exclude)


def relative_to(root: Path, path: Path) -> str:
    return os.path.relpath(os.path.abspath(path), root).replace(os.sep, "/")


def digest(data: bytes) -> bytes:
    return blake2b(data, digest_size=16).digest()


def root_for(paths: Sequence[Path]) -> tuple[Path, bool]:
    """The root of the library that holds the first path, and whether it is a library with a configuration."""
    first = Path(os.path.abspath(paths[0])) if paths else Path.cwd()
    root = root_of(first)
    if root is not None:
        return root, True
    if len(paths) > 1:
        return Path.cwd(), False
    return (first if first.is_dir() else first.parent), False


def config_bytes(root: Path) -> bytes | None:
    try:
        return read_bytes(root / CONFIG_NAME)
    except UnreadableText:
        return None


def read_files(
    root: Path, is_library: bool, paths: Sequence[Path], include: Iterable[str], exclude: Iterable[str],
    config: bytes | None,
) -> FilesOnDisk:  # fmt: skip
    """Reads the whole library, or exactly the paths where there is none."""
    data: dict[str, bytes] = {}
    unreadable: dict[str, str] = {}
    shut = tuple(exclude)
    closed: dict[Path, str] = {}
    if is_library:
        files = recipe_files(root, [root / name for name in shut], closed)
    else:
        named = paths or [root]
        files = [file for path in named for file in (recipe_files(path, (), closed) if path.is_dir() else [path])]
    unreadable.update((relative_to(root, path), why) for path, why in closed.items())
    for path in files:
        _read(root, path, data, unreadable)
    own = data.keys() | unreadable.keys()
    supplying: set[str] = set()
    for name in include:
        for path in recipe_files(root / name) if (root / name).is_dir() else ():
            if relative_to(root, path) not in own:  # a folder of the library itself supplies its names anyway
                supplying.add(relative_to(root, path))
            _read(root, path, data, unreadable)
    digests = {path: digest(content) for path, content in data.items()}
    return FilesOnDisk(root, config, data, digests, unreadable, frozenset(supplying), shut)


def _read(root: Path, path: Path, data: dict[str, bytes], unreadable: dict[str, str]) -> None:
    name = relative_to(root, path)
    if name in data:
        return
    try:
        data[name] = read_bytes(path)
    except UnreadableText as error:
        unreadable[name] = str(error)
