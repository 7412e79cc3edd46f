"""What `bring-in --as prices` does: shows what price lists change in the files of a library, and with `--write` changes it."""

from __future__ import annotations

import argparse
import difflib
import sys

from recipelang.commands import CommandError, quiet_reader
from recipelang.findings.wording import counted
from recipelang.intake.headers import Column, given_columns
from recipelang.intake.price_lists import PriceChanges, PricedThings, price_changes
from recipelang.intake.rows import CantBringIn, Sheet
from recipelang.intake.word_edits import edited
from recipelang.text.source import UnreadableText, decode
from recipelang.text.writing import write_all
from recipelang.workspace.files import read_bytes
from recipelang.workspace.workspace import Workspace


def put_prices(options: argparse.Namespace, workspace: Workspace, sheets: list[tuple[str, Sheet]]) -> int:
    """Prints the difference that lists make, or makes it. Raises CommandError."""
    if options.output or options.name or options.per:
        raise CommandError(
            "--as prices edits `price` lines in place; it takes --write, and neither -o, --name nor --per"
        )
    own = {path: file.text for path, file in workspace.files.items() if path not in workspace.supplying}
    columns = given_columns(options.columns) if options.columns else ()
    found = _joined([_changes(path, sheet, PricedThings(own), columns, options.packs) for path, sheet in sheets])
    try:
        data = {path: read_bytes(workspace.root / path) for path in dict.fromkeys(edit.path for edit in found.edits)}
        after = edited(data, found.edits, own)
    except (CantBringIn, UnreadableText) as error:
        raise CommandError(str(error)) from None
    if options.format == "json":
        from recipelang.output.intake_json import prices_json

        with quiet_reader():
            sys.stdout.write(prices_json(found, own))
    elif not options.write:
        with quiet_reader():
            for path in after:
                _print_difference(path, own[path], decode(after[path]))
    if options.write:
        write_all({workspace.root / path: content for path, content in after.items()})
        for path in after:
            print(f"wrote {path}", file=sys.stderr)
    _tell(found, options.write)
    return 1 if (options.strict and found.unmatched) or (options.check and found.edits) else 0


def _changes(path: str, sheet: Sheet, things: PricedThings, columns: tuple[Column, ...], packs: bool) -> PriceChanges:
    try:
        return price_changes(sheet, things, columns, packs)
    except CantBringIn as error:
        raise CommandError(f"{path}: {error}") from None


def _joined(found: list[PriceChanges]) -> PriceChanges:
    """The changes of several lists; of a word that two of them change, the later list's."""
    edits = {(edit.path, edit.start): edit for one in found for edit in one.edits}
    return PriceChanges(
        tuple(edits[key] for key in sorted(edits)),
        tuple(row for one in found for row in one.unmatched),
        tuple(note for one in found for note in one.notes),
        sum(one.same for one in found),
    )


def _tell(found: PriceChanges, is_written: bool) -> None:
    """What was left alone and what changed by much, then the counts."""
    for row in found.unmatched:
        print(f"recipelang: {row.place.text}: {row.why}", file=sys.stderr)
    for note in found.notes:
        print(f"recipelang: {note}", file=sys.stderr)
    done = "changed" if is_written else "would change"
    counts = f"{counted(len(found.edits), 'word')} {done}, {counted(found.same, 'price')} as before, {len(found.unmatched)} left alone"
    print(counts, file=sys.stderr)


def _print_difference(path: str, before: str, after: str) -> None:
    for line in difflib.unified_diff(before.splitlines(True), after.splitlines(True), path, path, n=1):
        sys.stdout.write(line if line.endswith("\n") else f"{line}\n")
