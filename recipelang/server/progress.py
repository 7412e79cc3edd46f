"""Telling a client that can show it how far the first look at a library is."""

from __future__ import annotations

from concurrent.futures import Future
from time import monotonic
from typing import TYPE_CHECKING, Final

from lsprotocol import types

if TYPE_CHECKING:
    from recipelang.server.host import Host

_WORTH_TELLING: Final = 200
"""Declarations that wait. Fewer are looked at before anybody has read the title."""
_SECONDS_BETWEEN: Final = 0.2


class Progress:
    """One bar at a time, from when there is much to do to when there is nothing."""

    def __init__(self, server: Host) -> None:
        self._server = server
        self._number = 0
        self._token: str | None = None
        """The bar that is asked for, or shown."""
        self._is_shown = False
        self._told_at = 0.0
        self._most = 0

    def update(self) -> None:
        """Tells how far the work is, if that was not told just now."""
        now = monotonic()
        if now - self._told_at < _SECONDS_BETWEEN:
            return
        self._told_at = now
        waiting = sum(library.standings.waiting for library in self._server.session.libraries)
        if self._token is None:
            window = self._server.capabilities.window
            if waiting > _WORTH_TELLING and window is not None and window.work_done_progress:
                self._most = waiting
                self._ask()
        elif self._is_shown:
            self._most = max(self._most, waiting)
            done = self._most - waiting
            share = 100 * done // self._most
            self._send(types.WorkDoneProgressReport(message=f"{done} of {self._most}", percentage=share))

    def end(self) -> None:
        """Says that nothing is left to do."""
        if self._is_shown:
            self._send(types.WorkDoneProgressEnd())
        self._token, self._is_shown = None, False

    def _ask(self) -> None:
        self._number += 1
        token = self._token = f"recipelang-{self._number}"

        def begin(answer: Future[None]) -> None:
            is_refused = answer.cancelled() or answer.exception() is not None
            if not is_refused and self._token == token:  # else all was done before the client answered
                self._is_shown = True
                self._send(types.WorkDoneProgressBegin("Checking recipes", percentage=0))

        asked: Future[None] = self._server.window_work_done_progress_create(types.WorkDoneProgressCreateParams(token))
        asked.add_done_callback(begin)

    def _send(self, value: object) -> None:
        if self._token is not None:
            self._server.progress(types.ProgressParams(self._token, value))
