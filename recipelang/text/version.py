"""The version of the tool, which what is stored and what is reported both name."""

from __future__ import annotations

from typing import Final

VERSION: Final = "0.1.0"
