"""Where things that can be made again are kept: `RECIPELANG_CACHE`, or the system's own place for them."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def cache_folder() -> Path:
    """The folder, which need not exist yet."""
    chosen = os.environ.get("RECIPELANG_CACHE")
    if chosen:
        return Path(chosen)
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "recipelang"
