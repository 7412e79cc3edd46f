"""How far a check is, on a terminal, once it has lasted longer than a second. Nothing anywhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic
from typing import Final, TextIO

QUIET_SECONDS: Final = 1.0
_STEP_SECONDS: Final = 0.1
_WIDTH: Final = 24

LocatedFinding = Callable[[int, int], None]


@contextmanager
def progress(stream: TextIO | None = None, clock: Callable[[], float] = monotonic) -> Iterator[LocatedFinding | None]:
    """Gives a function to be told how much of how much is done, None where nobody watches; at the end the line is wiped.

    It writes to standard error, so that findings can be piped while it shows.
    """
    out = sys.stderr if stream is None else stream
    if not out.isatty():
        yield None
        return
    bar = _Bar(out, clock)
    try:
        yield bar.show
    finally:
        bar.wipe()


class _Bar:
    """One line that is written over."""

    def __init__(self, out: TextIO, clock: Callable[[], float]) -> None:
        self._out = out
        self._clock = clock
        self._next = clock() + QUIET_SECONDS
        self._width = 0

    def show(self, done: int, total: int) -> None:
        now = self._clock()
        if now < self._next:
            return
        self._next = now + _STEP_SECONDS
        full = _WIDTH * done // max(total, 1)
        line = f"checking [{'#' * full}{'.' * (_WIDTH - full)}] {done} of {total}"
        self._write("\r" + line.ljust(self._width))
        self._width = len(line)

    def wipe(self) -> None:
        if self._width:
            self._write("\r" + " " * self._width + "\r")

    def _write(self, text: str) -> None:
        self._out.write(text)
        self._out.flush()
