"""What tells one state of the tool from another: its version, and what is in its files. Times play no part, so what one
machine has kept another can use, as a build server does that restores its cache.

Reading all files costs more than a check of one recipe, so what they came to is kept by their sizes and times.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import lru_cache
from hashlib import blake2b
from pathlib import Path
from typing import Final

from recipelang.text.cache_folder import cache_folder
from recipelang.text.grammar_folder import grammar_folder
from recipelang.text.stored import read_stored, write_stored
from recipelang.text.version import VERSION

_MARK: Final = b"recipelang-state-1\n"
_SUFFIXES: Final = (".py", ".lark", ".recipe", ".toml", ".txt")


@lru_cache(maxsize=1)
def fingerprint() -> bytes:
    """A digest of the tool's own files."""
    base = Path(__file__).parent.parent
    files = list(_files(base))
    grammar = grammar_folder()
    if base not in grammar.parents:
        files += _files(grammar)
    sizes = blake2b(digest_size=16)
    for name, path in files:
        status = os.stat(path)
        sizes.update(f"{name} {status.st_size} {status.st_mtime_ns}\n".encode())
    kept_in = cache_folder() / "tool" / f"{blake2b(str(base).encode(), digest_size=8).hexdigest()}.state"
    kept = read_stored(kept_in, _MARK)
    if kept is not None and kept[:16] == sizes.digest():
        return kept[16:]
    contents = blake2b(VERSION.encode(), digest_size=16)
    for name, path in files:
        data = Path(path).read_bytes()
        contents.update(f"{name} {len(data)}\n".encode())
        contents.update(data)
    write_stored(kept_in, _MARK, sizes.digest() + contents.digest())
    return contents.digest()


def _files(base: Path) -> Iterator[tuple[str, str]]:
    """The files below a folder by their names from there, in order."""
    for folder, folders, names in os.walk(base):
        folders[:] = sorted(name for name in folders if name != "__pycache__")
        for name in sorted(names):
            if name.endswith(_SUFFIXES):
                path = os.path.join(folder, name)
                yield os.path.relpath(path, base).replace(os.sep, "/"), path
