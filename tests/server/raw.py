"""A server in a process of its own, spoken to in bytes."""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any, Final

PATIENCE: Final = 120.0
"""Seconds without an answer after which a server hangs: never reached by one that lives, however busy the machine."""


class Raw:
    """One server process."""

    def __init__(self, folder: Path) -> None:
        self.log = folder / "server.log"
        with open(self.log, "wb") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "recipelang", "server"],
                stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=log,
                env={**os.environ, "RECIPELANG_CACHE": str(folder / "cache")},
            )  # fmt: skip
        self.answers: dict[Any, list[dict[str, Any]]] = {}
        """What was answered, by id."""
        self.told: list[dict[str, Any]] = []
        """Notifications and requests of the server."""
        self._came: queue.Queue[dict[str, Any] | None] = queue.Queue()
        self._number = 0
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        out = self.process.stdout
        assert out is not None
        while head := out.readline():
            name, _, length = head.partition(b":")
            assert name == b"Content-Length", head
            while out.readline().strip():
                pass
            self._came.put(json.loads(out.read(int(length))))
        self._came.put(None)

    def send(self, data: bytes) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(data)
        self.process.stdin.flush()

    def say(self, **message: Any) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        self.send(b"Content-Length: %d\r\n\r\n%b" % (len(body), body))

    def ask(self, method: str, params: Any) -> dict[str, Any]:
        """The answer to a request, be it an error."""
        self._number += 1
        name = f"ask {self._number}"
        self.say(id=name, method=method, params=params)
        return self.wait_for(name)

    def wait_for(self, name: Any) -> dict[str, Any]:
        while name not in self.answers:
            assert self.take(), f"the server is gone: {self.said()}"
        return self.answers[name][0]

    def take(self) -> bool:
        """Takes one message in; whether there was one before the server's end."""
        message = self._came.get(timeout=PATIENCE)
        if message is None:
            return False
        if "method" in message:
            self.told.append(message)
        else:
            name = message.get("id")
            self.answers.setdefault(name, []).append(message)
        return True

    def begin(self, *folders: Path, **more: Any) -> dict[str, Any]:
        """Shakes hands."""
        answer = self.ask(
            "initialize",
            {
                "processId": None, "rootUri": None, "capabilities": {},
                "workspaceFolders": [{"uri": one.as_uri(), "name": one.name} for one in folders], **more,
            },
        )  # fmt: skip
        self.say(method="initialized", params={})
        return answer

    def end(self) -> int:
        """The exit code, after everything that was written was read."""
        while self.take():
            pass
        return self.process.wait(PATIENCE)

    def said(self) -> str:
        """What stands in its log."""
        return self.log.read_text(encoding="utf-8", errors="replace")

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()
        for stream in (self.process.stdin, self.process.stdout):
            if stream is not None:
                try:
                    stream.close()
                except BrokenPipeError:
                    continue
