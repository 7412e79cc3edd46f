"""A field, or a note after a comma, that may stand once stands twice.

Why
    Two `makes` lines are two recipes; which one is cooked is anybody's guess. Of two counts on a line of a menu, one is
    what somebody forgot to delete.
Source
    the notation
Breaks
    recipe peach cup
        makes 24 portions of 1/3 cup
        makes 20 portions of 1/3 cup
        //@ repeated-field: "makes"
Fixed
    recipe peach cup
        makes 20 portions of 1/3 cup
Leaves alone
    food sliced peaches
        weighs 250 g per cup
        weighs 106 oz per #10 can
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Finding, Place, Related
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.amount import read_amount

_MANY = (
    tree.FoodCredit, tree.Use, tree.LeaveOut, tree.LeaveOutStep, tree.Add, tree.ChangeStep, tree.CreditAs, tree.Fits,
    tree.Closed, tree.Tested,
)  # fmt: skip


_BREAK: Final = re.compile(r"[,;]")


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    yield from _says_both(subject)
    yield from _notes(subject)
    seen: dict[object, Any] = {}
    for line in subject.body.lines:
        if isinstance(line, _MANY) or line.start == line.end:
            continue  # a block of no length has no line of its own: its first line stands misplaced, and that is said
        key = _key(line)
        first = seen.setdefault(key, line)
        if first is not line:
            word = source_of(subject.facts, subject.home).text[line.start : line.end].split()[0]
            yield subject.finding(
                line,
                f"This {subject.kind} has a second `{word}` line.",
                help="keep one of the two",
                related=(Related(Place(subject.home, first.start, first.end), "the first one"),),
            )


def _notes(subject: Subject) -> Iterator[Finding]:
    """Lines with two notes of one kind: the later counts, and nobody sees it."""
    text = source_of(subject.facts, subject.home).text
    for line in _noted(subject):
        for clause in _clauses(text, line):
            seen: dict[str, Place] = {}
            for start, end in clause:
                kind = _kind_of(text[start:end], line)
                if not kind:
                    continue
                place = Place(subject.home, start, end)
                if kind in seen:
                    yield subject.finding(
                        place,
                        f"This line says twice {_SAID[kind]}.",
                        help="keep one of the two",
                        related=(Related(seen[kind], "the first one"),),
                    )
                seen.setdefault(kind, place)


_KINDS: Final = (
    ("called", re.compile(r"called\s", re.IGNORECASE)),
    ("credited as", re.compile(r"credited\s+as\s", re.IGNORECASE)),
    ("on the side", re.compile(r"on\s+the\s+side(\s+in\s|$)", re.IGNORECASE)),
    ("discard", re.compile(r"discard\s", re.IGNORECASE)),
)
_SERVED_KINDS: Final = (
    ("make", re.compile(r"make\s+[\d,.]+$", re.IGNORECASE)),
    ("counts as", re.compile(r"counts\s+as\s", re.IGNORECASE)),
    ("at", re.compile(r"at\s+[$\d]", re.IGNORECASE)),
    ("count", re.compile(r"\d+$")),
)
_SAID: Final = {
    "called": "what the ingredient is called", "credited as": "what it credits as", "on the side": "that it is on the side",
    "discard": "how much of it is thrown away", "make": "how many are made", "counts as": "how many items it counts as",
    "at": "what it costs", "count": "how many are planned",
}  # fmt: skip


def _kind_of(note: str, line: Any) -> str:
    kinds = _SERVED_KINDS if isinstance(line, tree.Serve | tree.Sell) else _KINDS
    return next((kind for kind, pattern in kinds if pattern.match(note)), "")


def _noted(subject: Subject) -> Iterator[Any]:
    """The lines that take notes after commas."""
    for line in subject.body.lines:
        if isinstance(line, tree.Ingredients):
            yield from line.lines
        elif isinstance(line, tree.Use | tree.Add):
            yield line
        elif isinstance(line, tree.Day):
            for served in line.lines:
                yield from served.lines if isinstance(served, tree.Choose) else (served,)


def _clauses(text: str, line: Any) -> Iterator[list[tuple[int, int]]]:
    """Where the notes of a line stand, for each of the sizes that a line of a menu gives."""
    clause: list[tuple[int, int]] = []
    start = line.start
    for match in _BREAK.finditer(text, line.start, line.end):
        clause.append(_trimmed(text, start, match.start()))
        start = match.end()
        if match[0] == ";":
            yield clause[1:]
            clause = []
    yield [*clause, _trimmed(text, start, line.end)][1:]


def _trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    written = text[start:end]
    return start + len(written) - len(written.lstrip()), end - len(written) + len(written.rstrip())


def _says_both(subject: Subject) -> Iterator[Finding]:
    """A food that credits, and that credits nothing."""
    nothing = next((line for line in subject.body.lines if isinstance(line, tree.CreditsNothing)), None)
    credit = next((line for line in subject.body.lines if isinstance(line, tree.FoodCredit)), None)
    if nothing is not None and credit is not None:
        yield subject.finding(
            nothing,
            "This food says that it credits nothing, and on another line what it credits.",
            help="keep one of the two",
            related=(Related(Place(subject.home, credit.start, credit.end), "what it credits"),),
        )


def _key(line: Any) -> object:
    """What makes two lines the same field."""
    if isinstance(line, tree.Fact | tree.Field):
        return line.name
    if isinstance(line, tree.Weighs):
        # a cup and a pint are one kind of measure: two lines would be two densities
        per = read_amount(line.per.text, True).quantity if line.per else None
        return ("weighs", EACH_NODE if line.per is None else fold(line.per.text) if per is None else node_of(per.unit))
    if isinstance(line, tree.Price) and line.per is not None:
        # a price for the case and one for the pound say the same of two measures
        per = read_amount(line.per.text, True).quantity
        return ("price", fold(line.per.text) if per is None else node_of(per.unit))
    if isinstance(line, tree.Price):
        return ("price", EACH_NODE)
    if isinstance(line, tree.CreditsNothing | tree.Claims):
        return "credits"
    if isinstance(line, tree.Allergens):
        return line.verb
    if isinstance(line, tree.Day):
        return ("day", fold(line.weekday.text) if line.weekday else "", line.date.text if line.date else "")
    if isinstance(line, tree.Change):
        return ("change", _key(line.line))
    return type(line)
