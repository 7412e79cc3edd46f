"""A text laid out: indentation of 4, 8 and 12 blanks, values and ingredients in columns, at most one blank line.

Formatting says nothing new: the tree of every declaration stays the same but for blanks, or the declaration stays as it
is. A line that can't be read stays to the last character, first-column text that begins no declaration likewise.
Comments keep their line, and those behind a line their column where the line leaves it free. Line ends, a byte-order
mark and a missing last line end stay as the text has them. Formatting twice is formatting once.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from itertools import accumulate
from typing import Any, Final, NamedTuple

from recipelang.syntax.forms import BLOCKS
from recipelang.syntax.parser import parse
from recipelang.syntax.print import Printed, laid_out, printed_blocks
from recipelang.syntax.spacing import PROSE, line_text, recipe_line_text
from recipelang.syntax.split import STRAY, Declaration, comments_of, name_problem, split
from recipelang.syntax.token import Token
from recipelang.syntax.tree import Word
from recipelang.text.source import fold_line_ends
from recipelang.text.utensils import without_trade_mark

_BLANKS: Final = " \t\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000"
_POINTER: Final = re.compile(r"//[ \t]*\^")
"""A comment that points at a column of the line above, and so must not move, nor those that go on below it."""
_TAB: Final = 4
_PARTED: Final = frozenset(word.upper() for word in BLOCKS)
"""The terminals of blocks, which get a blank line above."""


class Change(NamedTuple):
    """Lines `first` up to, without, `last`, counted from 0, and the lines that replace them, without line ends."""

    first: int
    last: int
    lines: tuple[str, ...]


def format_text(text: str) -> str:
    """A whole text laid out. Raises nothing: what can't be read stays."""
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    end = line_end_of(text)
    plain = fold_line_ends(text[len(mark) :])
    lines = [line for group in _replaced(plain) for line in group]
    if not lines:
        return mark
    last = end if plain.endswith("\n") else ""
    return mark + end.join(lines) + last


def changes(text: str, first: int = 0, last: int | None = None) -> list[Change]:
    """What formatting would change in the lines from `first` up to, without, `last`; all lines count for columns."""
    plain = fold_line_ends(text.removeprefix("\ufeff"))
    lines = plain.removesuffix("\n").split("\n")
    found: list[Change] = []
    for number, group in enumerate(_replaced(plain)):
        if number < first or (last is not None and number >= last) or group == (lines[number],):
            continue
        if found and found[-1].last == number:
            before = found.pop()
            found.append(Change(before.first, number + 1, before.lines + group))
        else:
            found.append(Change(number, number + 1, group))
    return found


def line_end_of(text: str) -> str:
    """The line end that a text uses most; a line feed where it has none."""
    both = text.count("\r\n")
    counts = {"\n": text.count("\n") - both, "\r\n": both, "\r": text.count("\r") - both}
    return max(counts, key=lambda end: counts[end])


def _replaced(plain: str) -> list[tuple[str, ...]]:
    """For each line of a text with line feeds, the lines that stand in its place: none, itself, one laid out, or a
    blank one and that."""
    lines = plain.removesuffix("\n").split("\n")
    parted: set[int] = set()
    """Lines that want a blank line above."""
    for declaration in split(plain):
        formed = lay_out(declaration)
        if formed is None or not _says_the_same(declaration, formed):
            continue
        at = plain.count("\n", 0, declaration.start)
        lines[at : at + len(formed.lines)] = formed.lines
        parted.update(at + number for number in (0, *formed.parted))
    written = [number for number, line in enumerate(lines) if line.strip(_BLANKS)]
    groups: list[tuple[str, ...]] = [()] * len(lines)
    for before, number in zip([None, *written], written, strict=False):
        groups[number] = (lines[number],)
        if before is None:
            continue
        if number > before + 1:
            groups[before + 1] = ("",)
        elif number in parted:
            groups[number] = ("", lines[number])
    return groups


# ---- one declaration -------------------------------------------------------------------------------------------------


class LaidOut(NamedTuple):
    """A declaration's lines, as many as it had, and which of them want a blank line above."""

    lines: list[str]
    parted: list[int]


def lay_out(declaration: Declaration) -> LaidOut | None:
    """A declaration with its lines in columns; None for stray text."""
    if declaration.kind == STRAY:
        return None
    return _Layout(declaration).laid_out()


def _says_the_same(declaration: Declaration, formed: LaidOut) -> bool:
    text = "\n".join(formed.lines)
    if text == declaration.text.removesuffix("\n"):
        return True
    again = split(text)
    return len(again) == 1 and meaning(again[0]) == meaning(declaration)


def meaning(declaration: Declaration) -> object:
    """What a declaration says, to be compared: its tree without places and blanks, what can't be read in it, and what it
    allows."""
    body = parse(declaration)
    problems = [(problem.rule, problem.instead is None) for problem in body.problems]
    allowances = [(allowance.rule, allowance.reason) for allowance in body.allowances]
    return declaration.kind, declaration.key, _said(body.lines), body.broken, problems, allowances


def _said(node: Any) -> Any:
    if type(node) is Word:
        return "".join(without_trade_mark(node.text).split())
    if not isinstance(node, tuple):
        return node
    names: tuple[str, ...] = getattr(node, "_fields", ())
    if not names:
        return [_said(part) for part in node]
    return type(node).__name__, *(
        _said(part) for name, part in zip(names, node, strict=True) if name not in ("start", "end")
    )


class _Layout:
    """The lines of one declaration on their way. One instance for one declaration."""

    def __init__(self, declaration: Declaration) -> None:
        self.declaration = declaration
        self.old = declaration.text.removesuffix("\n").split("\n")
        self.starts = [0, *accumulate(len(line) + 1 for line in self.old)]
        self.header = self._line_of(declaration.header)
        self.comments = {self._line_of(start): start for start, _ in comments_of(declaration)}
        read: list[Token] = []
        self.body = parse(declaration, read)
        self.tokens: dict[int, list[Token]] = {}
        """The tokens of each line that was read to its end, by line."""
        self._sort(read)

    def laid_out(self) -> LaidOut:
        formed = self._formed()
        new = [self._finished(number, formed.get(number)) for number in range(len(self.old))]
        self._place_comments(new, formed)
        parted = [self._top(number, new) for number in formed if self._opens_a_part(number)]
        return LaidOut(new, [number for number in parted if number > self.header + 1])

    def _line_of(self, offset: int) -> int:
        return bisect_right(self.starts, offset) - 1

    def _sort(self, read: list[Token]) -> None:
        """Sorts tokens by line. Prose is taken from the text itself: the parser reads word processors' blanks as plain
        ones."""
        text = self.declaration.text
        line: list[Token] = []
        for token in read:
            if token.type == "_NL":
                if line:
                    self.tokens[self._line_of(line[0].start_pos)] = line
                line = []
                continue
            if line and self._line_of(line[0].start_pos) != self._line_of(token.start_pos):
                line = []  # the line above can't be read
            if token.type in PROSE:
                end = token.start_pos + len(token.value.rstrip())  # behind a step, a comment is blanks to the parser
                token = Token(token.type, text[token.start_pos : end], token.start_pos, end)
            line.append(token)

    def _formed(self) -> dict[int, str]:
        """The lines that are laid out, comments left out, by line."""
        found: dict[int, str] = {}
        if name_problem(self.declaration.name) is None:
            found[self.header] = f"{self.declaration.kind} {' '.join(self.declaration.name.split())}"
        for number, tokens in self.tokens.items():
            if tokens[0].type == "END":
                found[number] = " " * 8 + "end"
        for block in printed_blocks(self.body):
            rows = [(self._line_of(line.start), line) for line in block]
            laid = laid_out([self._row(number, line) for number, line in rows])
            found.update(
                (number, text)
                for (number, line), text in zip(rows, laid, strict=True)
                if number in self.tokens and self.tokens[number][0].start_pos == line.start
            )
        return found

    def _row(self, number: int, line: Printed) -> Printed:
        """A printed line with the words of the text instead of the tree's: in the order and form they were written."""
        tokens = self.tokens.get(number)
        if tokens is None or tokens[0].start_pos != line.start:
            return line
        if tokens[0].type == "LEAVE_OUT_STEP":
            return line._replace(rest=line_text([*tokens[1:]]) and f"step {line_text(tokens[1:])}")
        if not line.rest:
            return line._replace(first=line_text(tokens))
        if tokens[0].type == "CHANGE":
            return line._replace(first="change", rest=recipe_line_text(tokens[1].value))
        count = 1
        if tokens[0].type in ("AMOUNT", "OR", "TO_TASTE"):
            count = next(at for at, token in enumerate(tokens) if token.type == "NAME")
        rest = line_text(tokens[count:])
        if tokens[0].type == "SERVE_WITH":
            rest = without_trade_mark(rest)
        return line._replace(first=line_text(tokens[:count]), rest=rest)

    def _finished(self, number: int, formed: str | None) -> str:
        """A line with the comment behind it, in its column where that is free."""
        old = self.old[number]
        if formed is None:
            return old if old.strip(_BLANKS) else ""
        at = self.comments.get(number)
        if at is None:
            return formed
        at -= self.starts[number]
        room = _width(old[:at]) - _width(formed)
        return formed + " " * (room if room > 0 else 2) + old[at:].rstrip(_BLANKS)

    def _place_comments(self, new: list[str], formed: dict[int, str]) -> None:
        """Indents comments that have a line to themselves like the line they stand with: the one below, or the one
        above where they were indented like that. In the first column they stay there."""
        code = [number for number, line in enumerate(new) if line and not self._is_comment(number)]
        fixed = -1
        for number in filter(self._is_comment, self.comments):
            old = self.old[number]
            if _POINTER.match(old.strip(_BLANKS)) or (fixed == number - 1 and _indent(old) == _indent(self.old[fixed])):
                fixed = number
                continue
            if old.startswith("//"):
                new[number] = old.rstrip(_BLANKS)
                continue
            place = bisect_right(code, number)
            above = code[place - 1] if place else None
            below = code[place] if place < len(code) else None
            beside = below
            if below is None or (
                above is not None and _indent(old) == _indent(self.old[above]) != _indent(self.old[below])
            ):
                beside = above
            assert beside is not None, "a declaration has a header"
            indent = new[beside][: len(new[beside]) - len(new[beside].lstrip(_BLANKS))] or " " * 4
            new[number] = indent + old.strip(_BLANKS)

    def _is_comment(self, number: int) -> bool:
        """Whether a comment has the line to itself."""
        at = self.comments.get(number)
        return at is not None and not self.old[number][: at - self.starts[number]].strip(_BLANKS)

    def _opens_a_part(self, number: int) -> bool:
        return self.declaration.kind == "recipe" and number in self.tokens and self.tokens[number][0].type in _PARTED

    def _top(self, number: int, new: list[str]) -> int:
        """The first of the comment lines that stand right above a line and are indented like it."""
        while self._is_comment(number - 1) and _indent(new[number - 1]) == _indent(new[number]):
            number -= 1
        return number


def _width(text: str) -> int:
    return len(text.expandtabs(_TAB))


def _indent(line: str) -> int:
    return _width(line) - _width(line.lstrip(_BLANKS))
