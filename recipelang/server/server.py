"""The server: what the client has open, the libraries around it, and who is told what. Requests are in `features`."""

from __future__ import annotations

import asyncio
import gc
import logging
import os
import sys
import traceback
from collections.abc import Awaitable, Callable
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, Final

from lsprotocol import types
from pygls.capabilities import ServerCapabilitiesBuilder
from pygls.exceptions import JsonRpcException

from recipelang.editing.readonly_pages import is_ours
from recipelang.server.changes import Changes
from recipelang.server.convert import Converter
from recipelang.server.documents import Document, Documents, path_of
from recipelang.server.host import Host
from recipelang.server.progress import Progress
from recipelang.server.protocol import Protocol
from recipelang.server.publishing import Findings, pulls
from recipelang.server.schedule import Memory, Schedule
from recipelang.server.transport import connect_stdio, connect_tcp
from recipelang.server.watching import Watching
from recipelang.text.version import VERSION
from recipelang.workspace.open_library import LiveLibrary
from recipelang.workspace.session import Session, ToReport

log = logging.getLogger(__name__)

_SECONDS_BETWEEN_LOOKS: Final = 5.0
"""How often it is looked whether the client's process is still there."""


class Opened:
    """A file that a request speaks of: its library and its name there, up to date."""

    def __init__(self, server: RecipeServer, library: LiveLibrary, name: str, document: Document | None) -> None:
        self.server = server
        self.library = library
        self.workspace = library.workspace
        self.name = name
        self.document = document
        self.file = library.workspace.files[name]

    def offset(self, position: types.Position) -> int:
        """The offset in the file's text of a place that the client gives."""
        mark = self.document is not None and self.document.has_mark
        return self.server.converter.offset(self.file.lines, position, mark)

    def range(self, start: int, end: int) -> types.Range:
        """A stretch of the file's text as the client counts it."""
        lines = self.file.lines
        mark = self.document is not None and self.document.has_mark
        convert = self.server.converter.position
        return types.Range(convert(lines, lines.position(start), mark), convert(lines, lines.position(end), mark))


class RecipeServer(Host):
    """One client's server."""

    protocol: Protocol
    converter: Converter
    findings: Findings
    capabilities: types.ClientCapabilities

    def __init__(self) -> None:
        super().__init__("recipelang", VERSION, protocol_cls=Protocol)
        self.is_initialized = False
        self._is_running = False
        """Whether the client has said that it is ready."""
        self.documents = Documents()
        self.session = Session(self._on_crash)
        self._edited: dict[str, Document] = {}
        self._said: set[tuple[str, ...]] = set()
        self.schedule = Schedule(self._step, self._on_idle, lambda error: self.failed("a bit of work", error))
        self._memory = Memory()
        self.when_idle: list[Callable[[], None]] = []
        """What is called when nothing is left to do."""
        self._stopped: asyncio.Future[int] | None = None
        self.changes = Changes(self)
        self.watching = Watching(self)
        self.progress_bar = Progress(self)
        self.feature(types.INITIALIZE)(lambda params: self._initialize(params))
        self.feature(types.INITIALIZED)(lambda params: self._initialized(params))

    # ---- coming and going ----

    async def serve(self, port: int | None = None) -> int:
        """Serves one client by standard input and output, or by a port of the loopback interface; the exit code."""
        loop = asyncio.get_running_loop()
        self._stopped = loop.create_future()
        on_body, on_end = self.protocol.receive, lambda: self.stop(0)
        tcp = None
        if port is None:
            await connect_stdio(on_body, on_end, self.protocol.set_writer)
        else:
            tcp = await connect_tcp(port, on_body, on_end, self.protocol.set_writer)
            print(f"listening on 127.0.0.1:{tcp.sockets[0].getsockname()[1]}", file=sys.stderr, flush=True)
        self.schedule.start()
        looking = loop.create_task(self._look_for_client())
        code = await self._stopped
        looking.cancel()
        self.schedule.stop()
        if self.protocol.writer is not None:
            self.protocol.writer.close()
        if tcp is not None:
            tcp.close()
        await asyncio.sleep(0)
        return code

    def stop(self, code: int) -> None:
        """Ends the server after the message at hand."""
        if self._stopped is not None and not self._stopped.done():
            self._stopped.set_result(code)

    async def _look_for_client(self) -> None:
        while True:
            await asyncio.sleep(_SECONDS_BETWEEN_LOOKS)
            if self.process_id and not _is_alive(self.process_id):
                log.warning("the client's process is gone")
                self.stop(0)
            try:
                self.watching.sweep()
                self.changes.glance()
            except Exception as error:
                self.failed("a look over the disk", error)

    def _initialize(self, params: types.InitializeParams) -> None:
        self.capabilities = params.capabilities
        encoding = ServerCapabilitiesBuilder.choose_position_encoding(params.capabilities)
        self.converter = Converter(self.documents, str(getattr(encoding, "value", encoding)), params.capabilities)
        self.findings = Findings(self, self.converter, pulls(params.capabilities))
        for module in features():
            wanted: Callable[[RecipeServer], bool] | None = getattr(module, "is_wanted", None)
            if wanted is None or wanted(self):
                for method, options, handler in module.register(self):
                    self.on(method, handler, options)
        self.is_initialized = True
        self._folders = _folders_of(params)

    def _initialized(self, params: types.InitializedParams) -> None:
        if self._is_running:
            return
        self._is_running = True
        gc.disable()  # what is read now stays; it is turned on again when everything was looked at
        self.session.set_folders(self._folders)
        self.watching.start()
        self.schedule.wake()

    def on(self, method: str, handler: Callable[[Any], Any], options: Any = None) -> None:
        """Has a handler answer a method, with all edits that came before it in view."""
        self.feature(method, options)(self._fresh(handler))

    def on_command(self, name: str, handler: Callable[[list[Any]], Awaitable[Any]]) -> None:
        """Has a handler carry a command out, with whatever arguments the client sends."""

        async def carry_out(*arguments: Any) -> Any:
            self.take_edits()
            return await handler([*arguments])

        self.command(name)(carry_out)

    def _fresh(self, handler: Callable[[Any], Any]) -> Callable[[Any], Any]:
        """A handler that sees all edits that came before it."""
        if asyncio.iscoroutinefunction(handler):

            async def later(params: Any) -> Any:
                self.take_edits()
                return await handler(params)

            return later

        def at_once(params: Any) -> Any:
            self.take_edits()
            return handler(params)

        return at_once

    def report_server_error(self, error: Exception, source: Any) -> None:
        """Failures go into the log; the author can't fix them, and need not be shown them."""
        if isinstance(error, JsonRpcException):  # an answer like any other: who asked has been told why not
            return
        log.error("%s: %s", type(error).__name__, error)

    def _on_crash(self, rule: str, ref: str, error: Exception) -> None:
        self.failed(rule or "a check", error, f" on {ref}")

    def failed(self, what: str, error: BaseException, where: str = "") -> None:
        """Tells of a failure of ours: once for each place in the code, not at every keystroke."""
        trace = traceback.extract_tb(error.__traceback__)
        key = (what, type(error).__name__, *(f"{one.filename} {one.lineno}" for one in trace[-1:]))
        if key in self._said:
            return
        self._said.add(key)
        log.error("%s failed%s", what, where, exc_info=error)
        with suppress(Exception):  # that nobody can be told is no reason to fail again
            self.window_log_message(types.LogMessageParams(types.MessageType.Error, f"{what} failed{where}: {error!r}"))

    # ---- texts ----

    def did_open(self, params: types.DidOpenTextDocumentParams) -> None:
        item = params.text_document
        self._edited_now(self.documents.open(item.uri, item.version, item.text))

    def did_change(self, params: types.DidChangeTextDocumentParams) -> None:
        document = self.documents.of(params.text_document.uri)
        if document is None:
            log.warning("a change to a text that is not open: %s", params.text_document.uri)
            return
        document.change(params.content_changes, params.text_document.version, self.converter.encoding)
        self._edited_now(document)

    def did_close(self, params: types.DidCloseTextDocumentParams) -> None:
        document = self.documents.close(params.text_document.uri)
        if document is not None and not is_ours(document.path):
            self._edited.pop(document.path, None)
            self.session.drop_text(document.path)
            self.schedule.wake()

    def did_change_folders(self, params: types.DidChangeWorkspaceFoldersParams) -> None:
        event = params.event
        self.session.set_folders([path_of(one.uri) for one in event.added], [path_of(one.uri) for one in event.removed])
        self.watching.folders_changed()
        self.schedule.wake()

    def _edited_now(self, document: Document) -> None:
        # only noted: whoever types waits for nothing
        if not is_ours(document.path):
            self._edited[document.path] = document
            self.schedule.wake()

    def take_edits(self) -> None:
        """Brings the libraries up to the newest texts."""
        while self._edited:
            path, document = self._edited.popitem()
            self.session.set_text(path, document.text)

    def to_tell(self, uri: str) -> ToReport | None:
        """Where the findings of a file are; None for one that no library has for its own."""
        path = path_of(uri)
        library = self.session.teller(path)
        return None if library is None else ToReport(library, library.name_of(path))

    def opened(self, uri: str) -> Opened | None:
        """The file of a request; None for one that no library has."""
        path = path_of(uri)
        library = self.session.library_of(path)
        if library is None:
            library = next((one for one in self.session.libraries if one.holds(path)), None)
        if library is None:
            return None
        name = library.name_of(path)
        return Opened(self, library, name, self.documents.at(path)) if name in library.workspace.files else None

    # ---- work ----

    def _step(self) -> bool:
        if self._edited:
            self.take_edits()
        if self.watching.look():
            return True
        told = self.session.step()
        for path in self.session.take_gone():
            self.findings.take_back(path)
        if told is not None:
            self.findings.give(told)
        self.progress_bar.update()
        self._memory.found()
        return told is not None or not self.session.is_idle

    def _on_idle(self) -> None:
        self.progress_bar.end()
        self.findings.ask_to_pull()
        for act in self.when_idle:
            act()
        self._memory.rest()
        gc.enable()


def features() -> list[ModuleType]:
    """The modules of requests, found by their folder."""
    folder = Path(__file__).parent / "features"
    stems = sorted(path.stem for path in folder.glob("*.py") if not path.stem.startswith("_"))
    return [import_module(f"recipelang.server.features.{stem}") for stem in stems]


def _folders_of(params: types.InitializeParams) -> list[str]:
    if params.workspace_folders:
        return [path_of(folder.uri) for folder in params.workspace_folders]
    if params.root_uri:
        return [path_of(params.root_uri)]
    return [os.path.abspath(params.root_path)] if params.root_path else []


def _is_alive(process: int) -> bool:
    if process <= 0 or sys.platform == "win32":  # no process; or no way to ask that would not hurt it
        return True
    with suppress(PermissionError):
        try:
            os.kill(process, 0)
        except (ProcessLookupError, OverflowError):
            return False
    return True


def run(port: int | None = None) -> int:
    """Serves one client; the exit code."""
    logging.basicConfig(level=logging.WARNING, stream=sys.stderr, format="%(levelname)s %(name)s: %(message)s")
    logging.getLogger("recipelang").setLevel(logging.INFO)
    logging.getLogger("pygls").setLevel(logging.CRITICAL)  # what it has to say, we say
    from recipelang.rules.catalogue import rules
    from recipelang.syntax.driver import driver

    rules(), driver()  # what every client needs, before the first is heard
    return asyncio.run(RecipeServer().serve(port))
