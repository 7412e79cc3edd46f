"""`recipelang check`: all findings of files or folders."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from recipelang.commands import CommandError
from recipelang.commands.arguments import checked_year, existing
from recipelang.workspace.checking import check_paths
from recipelang.workspace.report import Result


def run(options: argparse.Namespace) -> int:
    year = checked_year(options.school_year)
    text: str | None = None
    paths = options.paths or ["."]
    if options.stdin_path:
        text = _standard_input()
        if not options.paths:
            paths = []
    else:
        existing(options.paths)
    result = check_paths(
        [Path(path) for path in paths],
        year,
        stdin_path=options.stdin_path,
        stdin_text=text,
        use_cache=not options.no_cache,
    )
    if options.format == "json":
        from recipelang.output.as_json import findings_json

        sys.stdout.write(findings_json(result))
    else:
        from recipelang.output.as_text import print_findings

        print_findings(result)
    return _exit_code(result, options.strict)


def _exit_code(result: Result, strict: bool) -> int:
    counts = result.counts
    return 1 if counts["error"] or (strict and counts["warning"]) else 0


def _standard_input() -> str:
    from recipelang.text.source import UnreadableText, decode

    try:
        return decode(sys.stdin.buffer.read())
    except UnreadableText as error:
        raise CommandError(f"standard input can't be read: {error}") from None
