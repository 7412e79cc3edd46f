"""A field that may stand once stands twice.

Why
    Two `makes` lines are two recipes; which one is cooked is anybody's guess.
Source
    the notation
Breaks
    recipe peach cup
        makes 24 portions of 1/3 cup
        makes 20 portions of 1/3 cup
        //@ repeated-field: "makes"
Mended
    recipe peach cup
        makes 20 portions of 1/3 cup
Leaves alone
    food sliced peaches
        weighs 250 g per cup
        weighs 106 oz per #10 can
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from recipelang.findings.finding import Finding, Place, Related
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold

_MANY = (
    tree.FoodCredit, tree.Use, tree.LeaveOut, tree.LeaveOutStep, tree.Add, tree.ChangeStep, tree.CreditAs, tree.Fits,
    tree.Closed, tree.Tested,
)  # fmt: skip


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    seen: dict[object, Any] = {}
    for line in subject.body.lines:
        if isinstance(line, _MANY) or line.start == line.end:
            continue  # a block of no length has no line of its own: its first line stands misplaced, and that is said
        key = _key(line)
        first = seen.setdefault(key, line)
        if first is not line:
            word = subject.library.get("source", subject.home).text[line.start : line.end].split()[0]
            yield subject.finding(
                line,
                f"This {subject.kind} has a second `{word}` line.",
                mend="keep one of the two",
                related=(Related(Place(subject.home, first.start, first.end), "the first one"),),
            )


def _key(line: Any) -> object:
    """What makes two lines the same field."""
    if isinstance(line, tree.Fact | tree.Field):
        return line.name
    if isinstance(line, tree.Weighs):
        return ("weighs", fold(line.per.text.lstrip("0123456789./ ")) if line.per else "each")
    if isinstance(line, tree.Allergens):
        return line.verb
    if isinstance(line, tree.Day):
        return ("day", fold(line.weekday.text) if line.weekday else "", line.date.text if line.date else "")
    if isinstance(line, tree.Change):
        return ("change", _key(line.line))
    return type(line)
