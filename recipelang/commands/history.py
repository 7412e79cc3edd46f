"""`recipelang history`: what became of a recipe, or of a library, commit by commit, and by which change."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from recipelang.commands import CommandError
from recipelang.findings.nearest import nearest
from recipelang.model.names import SPACES, Ref
from recipelang.syntax.split import fold
from recipelang.text.visible import printable
from recipelang.versions.conditions import Condition, UnknownCondition, condition, figure_named
from recipelang.versions.history import LibraryRow, Row, Span, history_of, history_of_library, moments, span
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader
from recipelang.versions.traces import Traces
from recipelang.workspace.disk import root_for
from recipelang.workspace.git import GitError, Repository


def run(options: argparse.Namespace) -> int:
    try:
        figure = figure_named(options.figure) if options.figure else ""
        wanted = condition(options.when) if options.when else None
    except UnknownCondition as error:
        raise CommandError(str(error)) from None
    if figure and wanted:
        raise CommandError("--figure gives a series, --when the commits of one condition; write one of them")
    root, is_library = root_for([Path(options.workspace)] if options.workspace else [])
    try:
        repository = Repository(root)
        traces = Traces() if options.no_cache else Traces.of_repository(repository.shared_folder)
        reader = Reader(root, is_library, known=traces.said, repository=repository)
        name, asked = _asked(reader, options)
        outcomes = Outcomes(traces)
        if name:
            ref = _ref(reader, asked, name)
            _print_one(name, history_of(reader, asked, ref, outcomes, options.all), asked, figure, wanted, options)
        else:
            _print_library(
                history_of_library(reader, asked, outcomes, bool(figure)), asked, outcomes, figure, wanted, options
            )
        traces.save()
    except GitError as error:
        raise CommandError(str(error)) from None
    return 0


def _asked(reader: Reader, options: argparse.Namespace) -> tuple[str, Span]:
    """The name, empty for the whole library, and the commits that are asked for."""
    words: list[str] = options.what
    name = words[0] if words else ""
    reach = words[1] if len(words) > 1 else ""
    if len(words) == 1 and ".." in name:
        name, reach = "", name
    if len(words) > 2:
        raise CommandError(f"`{words[2]}` is one too many: name one declaration, and commits like `v1..main`")
    one, dots, other = reach.partition("..")
    repository = reader.repository
    newest = repository.commit((other if dots else one) or "HEAD")
    return name, span(reader, repository.commit(one) if dots and one else "", newest)


def _ref(reader: Reader, asked: Span, name: str) -> Ref:
    """What a name means: a recipe or food before a container, a menu or a calendar; the newest version that has it."""
    key = fold(name)
    refs = [key, *(space + key for space in SPACES.values())]
    newest = asked.base if not asked.steps else reader.commit(asked.steps[-1].commit.id)
    for ref in refs:
        if ref in newest.inventory.held:
            return ref
    names: set[Ref] = set(asked.base.inventory.held)
    for moment in moments(reader, asked):
        names |= moment.newer.inventory.held.keys()
    for ref in refs:
        if ref in names:
            return ref
    bare = {next((ref[len(space) :] for space in SPACES.values() if ref.startswith(space)), ref) for ref in names}
    near = nearest(key, bare, 1)
    hint = f"; did you mean `{near[0]}`?" if near else ""
    raise CommandError(f"no version of the library has anything called `{name}`{hint}")


def _print_one(
    name: str, rows: Iterable[Row], asked: Span, figure: str, wanted: Condition | None, options: argparse.Namespace
) -> None:
    if options.format != "text":
        from recipelang.output import history_data as data

        found = list(rows)
        if options.format == "csv":
            sys.stdout.write(data.series_csv(figure, found) if figure else data.history_csv(found))
        else:
            series = data.series_json(name, figure, found, asked.is_cut) if figure else ""
            sys.stdout.write(series or data.history_json(name, found, asked.is_cut))
        return
    from recipelang.output import history_text as text

    lines: Iterator[str]
    if figure:
        lines = text.series_lines(rows, figure)
    elif wanted is not None:
        lines = text.when_lines(rows, wanted)
    else:
        lines = (line for row in rows for line in text.row_lines(row))
    speaks = "contain" in f"{figure} {wanted.text if wanted is not None else ''}" or not (figure or wanted)
    nothing = f"never {wanted.text}" if wanted is not None else "no commit made it anything else"
    _write(lines, asked, nothing, speaks)


def _print_library(
    rows: Iterator[LibraryRow], asked: Span, outcomes: Outcomes, figure: str, wanted: Condition | None,
    options: argparse.Namespace,
) -> None:  # fmt: skip
    if figure:
        rows = (_with_figure(row, figure) for row in rows)
        rows = (row for row in rows if row.comparison is not None and row.comparison.effects)
    if options.format == "json":
        from recipelang.output.history_data import library_json

        sys.stdout.write(library_json(rows, asked.is_cut))
        return
    if options.format == "csv":
        raise CommandError("--format csv is for one declaration; name it")
    from recipelang.output import history_text as text

    if wanted is not None:
        lines = (line for row in rows for line in _becoming(row, outcomes, wanted))
    else:
        lines = (line for row in rows for line in text.library_lines(row))
    speaks = "contain" in f"{figure} {wanted.text if wanted is not None else ''}"
    _write(lines, asked, "no commit made anything else of the library", speaks)


def _with_figure(row: LibraryRow, figure: str) -> LibraryRow:
    if row.comparison is not None:
        row.comparison.keep_only(figure)
    return row


def _becoming(row: LibraryRow, outcomes: Outcomes, wanted: Condition) -> Iterator[str]:
    """The declarations of which a condition came to hold with a commit, or ceased to."""
    from recipelang.output.history_text import commit_line

    said: list[str] = []
    for ref in row.others:
        before = wanted.holds(outcomes.of(row.older, row.older.inventory, ref))
        after = wanted.holds(outcomes.of(row.newer, row.newer.inventory, ref))
        if before != after:
            held = row.newer.inventory.held.get(ref) or row.older.inventory.held[ref]
            said.append(f"  {'now' if after else 'no longer'} {wanted.text}: {held[0].piece.name}")
    if said:
        yield commit_line(row.commit)
        yield from said


def _write(lines: Iterator[str], asked: Span, nothing: str, speaks_of_allergens: bool) -> None:
    """Lines as they come, so that the first can be read while the last are worked out."""
    from recipelang.output.cautions import ALLERGEN_CAUTION
    from recipelang.output.history_text import CUT

    count = 0
    for count, line in enumerate(lines, 1):  # noqa: B007
        sys.stdout.write(printable(line) + "\n")
        sys.stdout.flush()
    if not count:
        sys.stdout.write(printable(nothing) + "\n")
    if asked.is_cut:
        sys.stdout.write(CUT + "\n")
    if speaks_of_allergens and count:
        sys.stdout.write(f"\n{ALLERGEN_CAUTION}\n")
