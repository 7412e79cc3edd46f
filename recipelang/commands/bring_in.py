"""`recipelang bring-in`: tables, cards and lists that exist as declarations; on standard output, or in a new file."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from recipelang.commands import CommandError, quiet_reader
from recipelang.commands.arguments import existing
from recipelang.commands.opening import open_for
from recipelang.findings.wording import counted
from recipelang.intake.bringing import Brought, bring_in, names_of, origin_name, total
from recipelang.intake.cards import Asked
from recipelang.intake.headers import given_columns
from recipelang.intake.reading import STANDARD_INPUT, read_file, read_sheets
from recipelang.intake.rows import CantBringIn
from recipelang.text.source import MOST_BYTES
from recipelang.text.writing import write_new


def run(options: argparse.Namespace) -> int:
    existing([path for path in options.files if path != STANDARD_INPUT])
    if options.output and Path(options.output).exists():
        raise CommandError(f"{options.output} is there already; bring-in writes new files only")
    if options.name and len(options.files) > 1:
        raise CommandError("--name names one recipe; bring in one file with it")
    names = names_of(open_for(options.workspace, ""))
    found: list[Brought] = []
    for path in options.files:
        try:
            columns = given_columns(options.columns) if options.columns else ()
            asked = Asked(options.name, columns, origin_name(path), options.per)
            found.append(bring_in(read_sheets(path, _data(path)), options.kind, names, asked, options.sheet))
        except CantBringIn as error:
            where = "standard input" if path == STANDARD_INPUT else path
            raise CommandError(str(error) if str(error).startswith("--") else f"{where}: {error}") from None
    _put(options, found)
    for note in (note for one in found for note in one.notes):
        print(f"recipelang: {note}", file=sys.stderr)
    lines, doubts = total(found)
    print(f"{counted(lines, 'line')}, {doubts} doubtful", file=sys.stderr)
    return 1 if doubts and options.strict else 0


def _data(path: str) -> bytes:
    if path == STANDARD_INPUT:
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    return read_file(Path(path))


def _put(options: argparse.Namespace, found: list[Brought]) -> None:
    if options.format == "json":
        from recipelang.output.intake_json import brought_json

        text = brought_json(found)
    else:
        text = "\n".join(one.text for one in found)
    if not options.output:
        with quiet_reader():
            sys.stdout.write(text)
        return
    try:
        write_new(Path(options.output), text)
    except FileExistsError:
        raise CommandError(f"{options.output} is there already; bring-in writes new files only") from None
