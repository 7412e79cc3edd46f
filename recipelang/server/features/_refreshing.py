"""Having a client ask again for figures that it shows, once something else than their own text has made them others."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Hashable
from inspect import isawaitable
from typing import TYPE_CHECKING, Any, Final

from recipelang.server.schedule import Turns

if TYPE_CHECKING:
    from recipelang.server.server import Opened, RecipeServer

log = logging.getLogger(__name__)

_MOST: Final = 200
"""Answers of one document that are remembered, the latest of them."""


class Shown:
    """What a client was answered about its open documents. When nothing is left to do it is worked out again, and where
    it is another the client is asked to ask. A document that was edited since is left out: the client asks anyway."""

    def __init__(
        self,
        server: RecipeServer,
        can_refresh: bool,
        again: Callable[[Opened, Any], Any],
        ask: Callable[[], object],
    ) -> None:
        self._server = server
        self._can_refresh = can_refresh
        self._again = again
        self._ask = ask
        self._answers: dict[str, tuple[int, dict[Hashable, Any]]] = {}
        """By document: its version, and what was answered by what was asked for."""
        self._seen: list[tuple[int, int]] = []
        self._task: asyncio.Task[None] | None = None
        if can_refresh:
            server.when_idle.append(self._look)

    def note(self, uri: str, asked: Hashable, answer: Any) -> None:
        """Remembers what the client shows from now on."""
        document = self._server.documents.of(uri)
        if document is None or not self._can_refresh:
            return
        version, answers = self._answers.get(uri, (document.version, {}))
        if version != document.version:
            answers = {}
        self._answers[uri] = document.version, answers
        answers.pop(asked, None)
        answers[asked] = answer
        if len(answers) > _MOST:
            del answers[next(iter(answers))]

    def _look(self) -> None:
        libraries = [library.workspace for library in self._server.session.libraries]
        now = [(id(workspace), workspace.facts.revision) for workspace in libraries]
        if now == self._seen or not self._answers:
            return
        self._seen = now
        if self._task is not None:
            self._task.cancel()
        self._task = asyncio.get_running_loop().create_task(self._compare())

    async def _compare(self) -> None:
        """Asks the client to ask at the first answer that has become another."""
        turns = Turns()
        for uri, (version, answers) in [*self._answers.items()]:
            document = self._server.documents.of(uri)
            if document is None:
                del self._answers[uri]
                continue
            for asked, answer in [*answers.items()]:
                await turns.give()
                opened = self._server.opened(uri)
                if document.version != version or opened is None:
                    break
                found = self._again(opened, asked)
                if (await found if isawaitable(found) else found) != answer:
                    self._answers.clear()
                    self._ask()
                    return
