"""Bytes kept for next time: written beside and renamed, with a digest of their own, so that a damaged file is as good as
none."""

from __future__ import annotations

import contextlib
import os
import tempfile
from hashlib import blake2b
from pathlib import Path
from typing import Final

_DIGEST: Final = 16


def read_stored(path: Path, mark: bytes) -> bytes | None:
    """What was kept under a mark; None where there is nothing, or nothing whole."""
    try:
        data = path.read_bytes()
    except OSError:
        return None
    start = len(mark) + _DIGEST
    payload = data[start:]
    if not data.startswith(mark) or blake2b(payload, digest_size=_DIGEST).digest() != data[len(mark) : start]:
        return None
    return payload


def write_stored(path: Path, mark: bytes, payload: bytes) -> None:
    """Keeps bytes under a mark; does nothing where it can't."""
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(mark + blake2b(payload, digest_size=_DIGEST).digest() + payload)
            os.replace(name, path)
        except OSError:
            with contextlib.suppress(OSError):
                os.unlink(name)
