"""When work is done: between messages, in slices short enough that no message waits for long.

There is no fixed delay. An edit wakes the schedule; after every bit of work a newer edit may have come, which is then
taken first; what it overtakes is simply not finished. A task that waits for the client is never canceled: its answer
would find nobody.
"""

from __future__ import annotations

import asyncio
import gc
import logging
from collections.abc import Callable
from time import perf_counter
from typing import Final

log = logging.getLogger(__name__)

SLICE: Final = 0.003
"""Seconds of work before messages are looked at."""
SLOW: Final = 0.016
"""A bit of work that takes longer than a frame is worth a line in the log."""


class Schedule:
    """Does bits of work until there are none left, and starts again when woken. `step` does one and tells whether there
    is more; `on_idle` is called when there is not, `on_failure` when a bit has failed, and the next one is taken."""

    def __init__(
        self, step: Callable[[], bool], on_idle: Callable[[], None], on_failure: Callable[[Exception], None]
    ) -> None:
        self._step = step
        self._on_idle = on_idle
        self._on_failure = on_failure
        self._awake = asyncio.Event()
        self.is_idle = True
        self._task: asyncio.Task[None] | None = None

    def start(self) -> None:
        self._task = asyncio.get_running_loop().create_task(self._run())

    def wake(self) -> None:
        """Says that there may be work."""
        self.is_idle = False
        self._awake.set()

    def stop(self) -> None:
        if self._task is not None:
            self._task.cancel()

    async def _run(self) -> None:
        while True:
            await self._awake.wait()
            while await self._slice():
                pass
            self.is_idle = True
            self._on_idle()

    async def _slice(self) -> bool:
        """Works for a while, then lets messages in; whether there is more to do."""
        self._awake.clear()
        began = perf_counter()
        while True:
            before = perf_counter()
            try:
                more = self._step()
            except Exception as error:
                self._on_failure(error)
                more = True
            now = perf_counter()
            if now - before > SLOW:
                log.info("a bit of work took %.0f ms", (now - before) * 1000)
            if not more or now - began > SLICE:
                break
        await asyncio.sleep(0)
        return more or self._awake.is_set()


class Turns:
    """For work that a request does by itself: lets messages in whenever it has worked for a slice."""

    def __init__(self) -> None:
        self._began = perf_counter()

    async def give(self) -> bool:
        """Gives others a turn if it is time; whether they had one, and may have changed something."""
        if perf_counter() - self._began <= SLICE:
            return False
        await asyncio.sleep(0)
        self._began = perf_counter()
        return True


class Memory:
    """The collector's rounds. What a library holds stays; looking it through again and again would make somebody wait,
    so it is taken out of the rounds whenever much was found. Nothing is collected before that: looking a library through
    takes a second, and what was computed is freed without (a test holds it to that)."""

    def __init__(self) -> None:
        self._found = 0
        gc.set_threshold(_YOUNG, 20, 100)

    def found(self) -> None:
        """Notes a bit of work that may have left something."""
        self._found += 1

    def rest(self) -> None:
        """Says that there is nothing to do at the moment."""
        if self._found > _MUCH:
            self._found = 0
            gc.freeze()


_YOUNG: Final = 20000
"""Objects made before the youngest are looked through."""
_MUCH: Final = 1000
"""Bits of work."""
