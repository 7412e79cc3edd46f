"""Messages in and out: by standard input and output, or by one connection on the loopback interface.

Bytes are cut into messages as they arrive, without a thread in between where the system allows it: each hand-over
between threads costs a wait for the interpreter that a busy moment makes long.
"""

from __future__ import annotations

import asyncio
import logging
import os
import re
import sys
import threading
from collections.abc import Callable
from typing import Any, BinaryIO, Final

_LENGTH: Final = re.compile(rb"Content-Length:[ \t]*(\d{1,10})[ \t]*\r?\n", re.IGNORECASE)
_HEAD_END: Final = re.compile(rb"\r?\n\r?\n")
_LONGEST_HEAD: Final = 8192
_LONGEST_BODY: Final = 256 * 1024 * 1024
"""A head that says more than this is damaged: waiting for so much would look like a hang."""
_MOST_WAITING: Final = 64 * 1024 * 1024
"""Bytes that may wait for a client that does not read. Then it is taken to be gone."""

log = logging.getLogger(__name__)


class Framing(asyncio.Protocol):
    """Cuts a stream of bytes into message bodies. A head that says no length is passed over to the next one."""

    def __init__(self, on_body: Callable[[bytes], None], on_end: Callable[[], None]) -> None:
        self._on_body = on_body
        self._on_end = on_end
        self._waiting = bytearray()
        self._needed = -1

    def data_received(self, data: bytes) -> None:
        self._waiting += data
        while self._take():
            pass

    def _take(self) -> bool:
        """Takes one head or body off what has come in."""
        waiting = self._waiting
        if self._needed < 0:
            end = _HEAD_END.search(waiting)
            if end is None:
                if len(waiting) > _LONGEST_HEAD:
                    del waiting[: -_LONGEST_HEAD // 2]  # the head of the next message may have begun
                return False
            length = _LENGTH.search(waiting, 0, end.end())
            self._needed = -1 if length is None or int(length[1]) > _LONGEST_BODY else int(length[1])
            del waiting[: end.end()]
            return True
        if len(waiting) < self._needed:
            return False
        body = bytes(waiting[: self._needed])
        del waiting[: self._needed]
        self._needed = -1
        self._on_body(body)
        return True

    def eof_received(self) -> bool:
        return False

    def connection_lost(self, exc: Exception | None) -> None:
        self._on_end()


class Writer:
    """Where answers go. Never waits: what the client has not read yet is kept for it."""

    def __init__(self, transport: asyncio.WriteTransport, on_gone: Callable[[], None]) -> None:
        self._transport = transport
        self._on_gone = on_gone

    def write(self, data: bytes) -> None:
        if self._transport.is_closing():
            return
        self._transport.write(data)
        if self._transport.get_write_buffer_size() > _MOST_WAITING:
            log.error("the client reads nothing any more")
            self._on_gone()

    def close(self) -> None:
        self._transport.close()


class BlockingWriter:
    """Where answers go on systems whose standard output can't be waited for."""

    def __init__(self, stream: BinaryIO, on_gone: Callable[[], None]) -> None:
        self._descriptor = stream.fileno()
        self._on_gone = on_gone

    def write(self, data: bytes) -> None:
        left = memoryview(data)
        try:
            while left:  # past Python's own buffer, which would complain at the end that it can't be emptied
                left = left[os.write(self._descriptor, left) :]
        except OSError:
            self._on_gone()

    def close(self) -> None:
        return


async def connect_stdio(
    on_body: Callable[[bytes], None], on_end: Callable[[], None], on_writer: Callable[[Writer | BlockingWriter], None]
) -> None:
    """Reads messages from standard input, and hands over the writer to standard output before the first of them.
    `on_end` is told when either is gone."""
    loop = asyncio.get_running_loop()
    source, target = sys.stdin.buffer, sys.stdout.buffer
    # prints of whoever means well must not end up between messages
    sys.stdout = sys.stderr
    try:
        transport, _ = await loop.connect_write_pipe(lambda: _Ending(on_end), target)
        on_writer(Writer(transport, on_end))
    except (ValueError, OSError, NotImplementedError):
        on_writer(BlockingWriter(target, on_end))
    framing = Framing(on_body, on_end)
    try:
        await loop.connect_read_pipe(lambda: framing, source)
    except (ValueError, OSError, NotImplementedError):  # a file, or a system that can't wait for its input
        threading.Thread(target=_read_all, args=(source, framing, loop), daemon=True, name="standard input").start()


class _Ending(asyncio.streams.FlowControlMixin):
    """Tells when the reader of our output has gone."""

    def __init__(self, on_end: Callable[[], None]) -> None:
        super().__init__()
        self._on_end = on_end

    def connection_lost(self, exc: Exception | None) -> None:
        super().connection_lost(exc)
        self._on_end()


def _read_all(source: BinaryIO, framing: Framing, loop: asyncio.AbstractEventLoop) -> None:
    read: Any = getattr(source, "read1", source.read)
    try:
        while data := read(65536):
            loop.call_soon_threadsafe(framing.data_received, data)
        loop.call_soon_threadsafe(framing.connection_lost, None)
    except (RuntimeError, OSError):  # the loop has ended before the input
        return


async def connect_tcp(
    port: int, on_body: Callable[[bytes], None], on_end: Callable[[], None], on_writer: Callable[[Writer], None]
) -> asyncio.Server:
    """Listens on the loopback interface for one client."""
    loop = asyncio.get_running_loop()
    server: asyncio.Server | None = None

    class Connection(Framing):
        def connection_made(self, transport: Any) -> None:
            on_writer(Writer(transport, on_end))
            if server is not None:
                server.close()  # one client, and nobody after it

    server = await loop.create_server(lambda: Connection(on_body, on_end), "127.0.0.1", port)
    return server
