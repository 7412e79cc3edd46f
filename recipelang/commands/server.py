"""`recipelang server`: the language server, for editors."""

from __future__ import annotations

import argparse

from recipelang.commands import CommandError


def run(options: argparse.Namespace) -> int:
    try:
        from recipelang.server.server import run as serve
    except ModuleNotFoundError as error:
        raise CommandError(f"the server needs {error.name}: install pygls") from None
    port: int | None = options.tcp
    if port is not None and not 0 <= port < 65536:
        raise CommandError(f"--tcp takes a port from 0 to 65535, not {port}")
    try:
        return serve(port)
    except OSError as error:
        raise CommandError(f"port {port} can't be used: {error.strerror}") from None
