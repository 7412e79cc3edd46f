"""How long computing may take at once, where somebody waits who can come back for the rest."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from time import perf_counter


class TakesLonger(BaseException):
    """Raised to unwind: there is more to compute than was to be done at once."""


class Patience:
    """How long computing may take at once. Without a limit it is done to its end."""

    __slots__ = ("_since", "limit")

    def __init__(self) -> None:
        self.limit = 0.0
        """In seconds; 0 for none."""
        self._since = 0.0

    @contextmanager
    def at_most(self, seconds: float) -> Iterator[None]:
        """Work inside that takes longer raises `TakesLonger` between two facts. What was computed is remembered, so the
        same work done again goes on from there; at least two facts are computed each time."""
        self.limit, self._since = seconds, 0.0
        try:
            yield
        finally:
            self.limit = 0.0

    def ask(self) -> None:
        """Gives up once the work has taken as long as it may. It begins with the first fact that is computed: what is
        remembered from the last time is gone through again, however long that takes."""
        now = perf_counter()
        if not self._since:
            self._since = now
        elif now - self._since > self.limit:
            raise TakesLonger
