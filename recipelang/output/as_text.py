"""Findings for people: the line with its caret, the figures, the source, the fix.

Plain text is written straight out; on a terminal the same lines take color from rich, imported only there.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from recipelang.findings.wording import counted, listed
from recipelang.text.record import Record
from recipelang.text.visible import printable, visible
from recipelang.workspace.report import LocatedFinding, Result

if TYPE_CHECKING:
    from recipelang.workspace.rule_year_diff import Years

_MARGIN = 9
_WIDEST = 160
"""Longer source lines are cut around the place."""


class Piece(Record):
    """A stretch of output and its style."""

    text: str
    style: str = ""


def print_findings(result: Result, years: Years | None = None) -> None:
    """Findings on standard output, then what another year changes, one line of summary, and what a baseline did."""
    write = _writer()
    for words in result.imagined:
        write([Piece(f"imagined: {words}", "bold")])
    if result.imagined:
        write([])
    for told in result.told:
        for line in finding_lines(told):
            write(line)
        write([])
    if years is not None:
        from recipelang.output.besides import years_lines

        for text in years_lines(years):
            write([Piece(text)])
        write([])
    write([Piece(summary(result), "bold")])
    if result.hidden is not None:
        from recipelang.output.besides import hidden_lines

        for text in hidden_lines(result.hidden):
            write([Piece(text)])


def summary(result: Result) -> str:
    """One line: what was found, in how much, by which year's rules, and what a baseline hides."""
    counts = result.counts
    found = [counted(counts[severity], severity) for severity in counts if counts[severity]]
    others = [one for one in result.years if one != result.school_year] if result.school_year else []
    year = f", rules of school year {result.school_year}" if result.school_year else ""
    if others:
        year += f", and of {listed(others)} by the dates of menus"
    what = ", ".join(found) if found else "nothing found"
    hidden = result.hidden
    besides = f", {hidden.number} hidden by {hidden.baseline}" if hidden is not None and hidden.number else ""
    return f"{what} in {counted(result.files, 'file')} ({counted(result.declarations, 'declaration')}){year}{besides}"


def finding_lines(told: LocatedFinding) -> Iterator[list[Piece]]:
    """The lines of one finding."""
    finding, place = told.finding, told.range
    style = {"error": "bold red", "warning": "bold yellow"}.get(finding.severity, "bold cyan")
    yield [
        Piece(f"{visible(place.path)}:{place.start.line}:{place.start.column}", "bold"), Piece("  "),
        Piece(finding.severity, style), Piece("  "), Piece(finding.rule, "bold"),
    ]  # fmt: skip
    yield from _source_lines(told, style)
    yield [Piece(finding.message)]
    for figure in finding.figures:
        note = f"    {figure.note}" if figure.note else ""
        yield _labelled(figure.label, f"{figure.value}{note}")
    for related, message in told.related:
        yield _labelled("see", f"{visible(related.path)}:{related.start.line}  {message}")
    if finding.source:
        yield _labelled("rule", finding.source)
    if finding.help:
        yield _labelled("fix", finding.help)
    for title, _, _ in told.fixes:
        if title.startswith("did you mean"):
            yield _labelled("", title)


def plain(lines: Iterable[list[Piece]]) -> str:
    """Lines without their styles, for terminals and logs."""
    return "".join(printable("".join(piece.text for piece in pieces).rstrip()) + "\n" for pieces in lines)


def _source_lines(told: LocatedFinding, style: str) -> Iterator[list[Piece]]:
    place = told.range
    line = told.line
    if not line.strip():
        return
    start = place.start.column - 1
    end = place.end.column - 1 if place.end.line == place.start.line else len(line)
    shown, start, end = _written_out(*_cut(line, start, max(end, start + 1)))
    number = str(place.start.line)
    # tabs keep their width under the caret
    lead = "".join("\t" if character == "\t" else " " for character in shown[:start])
    yield [Piece(f"{number:>5} | ", "dim"), Piece(shown)]
    yield [Piece(f"{'':>5} | ", "dim"), Piece(lead), Piece("^" * (end - start), style)]


def _written_out(line: str, start: int, end: int) -> tuple[str, int, int]:
    """A line as it is printed, with hidden characters written out, and the place in that."""
    before, within, after = (printable(part) for part in (line[:start], line[start:end], line[end:]))
    return before + within + after, len(before), len(before) + len(within) + max(0, end - len(line))


def _cut(line: str, start: int, end: int) -> tuple[str, int, int]:
    """A line short enough for a terminal, and the place in it."""
    end = min(end, max(len(line), start + 1))
    if len(line) <= _WIDEST:
        return line, start, end
    left = max(0, min(start - 40, len(line) - _WIDEST))
    head = "…" if left else ""
    shown = head + line[left : left + _WIDEST] + ("…" if left + _WIDEST < len(line) else "")
    shift = len(head) - left
    return shown, start + shift, min(end + shift, len(shown))


def _labelled(label: str, text: str) -> list[Piece]:
    return [Piece(f"  {label:<{_MARGIN}} ", "dim"), Piece(text)]


def _writer() -> Callable[[list[Piece]], None]:
    """A function that writes one line of pieces."""
    if sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        from rich.console import Console
        from rich.text import Text

        console = Console(highlight=False, soft_wrap=True)

        def colored(pieces: list[Piece]) -> None:
            console.print(Text.assemble(*((printable(piece.text), piece.style) for piece in pieces)))

        return colored

    def uncolored(pieces: list[Piece]) -> None:
        sys.stdout.write(plain([pieces]))

    return uncolored
