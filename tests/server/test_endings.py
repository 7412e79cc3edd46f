"""How a server ends: with the code that the protocol asks for, without a complaint, and always, however the client goes."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.server.raw import PATIENCE, Raw

SERVER = [sys.executable, "-m", "recipelang", "server"]
BAD = "food milk\n    contains mikl\n"

Start = Callable[[], Raw]


@pytest.fixture(name="start")
def _start(tmp_path: Path) -> Iterator[Start]:
    servers: list[Raw] = []

    def start() -> Raw:
        servers.append(Raw(tmp_path))
        return servers[-1]

    yield start
    for server in servers:
        server.kill()


def message(**parts: Any) -> bytes:
    import json

    body = json.dumps({"jsonrpc": "2.0", **parts}).encode()
    return b"Content-Length: %d\r\n\r\n%b" % (len(body), body)


def hello(folder: Path, process: int | None = None) -> bytes:
    params = {"processId": process, "rootUri": folder.as_uri(), "capabilities": {}}
    return message(id=1, method="initialize", params=params) + message(method="initialized", params={})


def test_exit_after_shutdown_is_0(tmp_path: Path, start: Start) -> None:
    server = start()
    server.begin(tmp_path)
    assert server.ask("shutdown", None) == {"jsonrpc": "2.0", "id": "ask 2", "result": None}
    assert server.ask("textDocument/hover", {})["error"]["code"] == -32600
    server.say(method="exit")
    assert server.end() == 0
    assert "Traceback" not in server.said()


def test_exit_without_shutdown_is_1(tmp_path: Path, start: Start) -> None:
    server = start()
    server.begin(tmp_path)
    server.say(method="exit")
    assert server.end() == 1
    assert "Traceback" not in server.said()


def test_exit_before_the_handshake_is_1(start: Start) -> None:
    server = start()
    server.say(method="exit")
    assert server.end() == 1
    assert "Traceback" not in server.said()


@pytest.mark.parametrize("begins", [True, False])
def test_a_closed_input_ends_the_server(tmp_path: Path, start: Start, begins: bool) -> None:
    server = start()
    if begins:
        (tmp_path / "a.recipe").write_text(BAD)
        server.begin(tmp_path)
    assert server.process.stdin is not None
    server.process.stdin.write(b"Content-Length: 100\r\n\r\n{")  # in the middle of a message
    server.process.stdin.close()
    assert server.end() == 0
    assert "Traceback" not in server.said()


def test_a_pipe_that_breaks_while_it_is_written_to_ends_the_server(tmp_path: Path) -> None:
    for number in range(40):
        (tmp_path / f"{number}.recipe").write_text(BAD)
    process = subprocess.Popen(SERVER, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdin is not None
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdin.write(hello(tmp_path))
    process.stdin.flush()
    process.stdout.readline()  # it is answering
    process.stdout.close()
    with process.stdin, process.stderr:
        said = process.stderr.read()
        assert process.wait(PATIENCE) == 0
    assert b"Traceback" not in said
    assert b"Exception ignored" not in said


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a disk that is always full")
def test_an_output_that_takes_nothing_ends_the_server(tmp_path: Path) -> None:
    with open("/dev/full", "wb") as full:
        process = subprocess.Popen(SERVER, stdin=subprocess.PIPE, stdout=full, stderr=subprocess.PIPE)
    assert process.stdin is not None
    assert process.stderr is not None
    process.stdin.write(hello(tmp_path))
    process.stdin.flush()
    with process.stdin, process.stderr:
        said = process.stderr.read()
        assert process.wait(PATIENCE) == 0
    assert b"Traceback" not in said
    assert b"Exception ignored" not in said


def test_input_and_output_may_be_files(tmp_path: Path) -> None:
    farewell = message(id=2, method="shutdown") + message(method="exit")
    (tmp_path / "in").write_bytes(hello(tmp_path) + farewell)
    with open(tmp_path / "in", "rb") as given, open(tmp_path / "out", "wb") as out:
        done = subprocess.run(SERVER, stdin=given, stdout=out, stderr=subprocess.PIPE, timeout=PATIENCE)
    assert done.returncode == 0
    assert b"Traceback" not in done.stderr
    assert (tmp_path / "out").read_bytes().endswith(b'{"id": 2, "jsonrpc": "2.0", "result": null}')


CLIENT = """
import subprocess, sys, time
server = subprocess.Popen(sys.argv[1:], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
server.stdin.write(sys.stdin.buffer.read())
server.stdin.flush()
server.stdout.readline()
print("answered", flush=True)
time.sleep(1000)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="kills as POSIX does")
def test_a_client_that_is_killed_leaves_no_server_behind(tmp_path: Path) -> None:
    out, into = os.pipe()
    client = subprocess.Popen(
        [sys.executable, "-c", CLIENT, *SERVER], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=into
    )
    os.close(into)
    assert client.stdin is not None
    assert client.stdout is not None
    client.stdin.write(hello(tmp_path))
    client.stdin.close()
    assert client.stdout.readline() == b"answered\n"
    client.send_signal(signal.SIGKILL)
    with client.stdout, open(out, "rb") as log:
        said = log.read()  # comes to an end when the last who holds it has ended: the server
    client.wait()
    assert b"Traceback" not in said


@pytest.mark.slow
def test_a_client_that_is_gone_without_closing_anything_is_missed(tmp_path: Path, start: Start) -> None:
    client = subprocess.Popen([sys.executable, "-c", "pass"])
    client.wait()
    server = start()
    server.begin(tmp_path, processId=client.pid)
    assert server.end() == 0
    assert "the client's process is gone" in server.said()


def test_a_connection_that_is_cut_ends_the_server(tmp_path: Path) -> None:
    process = subprocess.Popen([*SERVER, "--tcp", "0"], stderr=subprocess.PIPE)
    assert process.stderr is not None
    port = int(process.stderr.readline().rpartition(b":")[2])
    with socket.create_connection(("127.0.0.1", port)) as connection:
        connection.sendall(hello(tmp_path))
        assert connection.recv(100).startswith(b"Content-Length: ")
    with process.stderr:
        said = process.stderr.read()
        assert process.wait(PATIENCE) == 0
    assert b"Traceback" not in said
