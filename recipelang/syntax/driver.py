"""The loop over the grammar's tables, with what makes the tree's nodes: one for a process."""

from __future__ import annotations

from functools import lru_cache

from recipelang.syntax.build import Builder
from recipelang.syntax.lalr import Driver
from recipelang.syntax.tables import tables


@lru_cache(maxsize=1)
def driver() -> Driver:
    """The one loop. What it has prepared for a text serves the next."""
    return Driver(tables(), Builder())
