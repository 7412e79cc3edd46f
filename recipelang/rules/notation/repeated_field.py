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
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.amount import read_amount

_MANY = (
    tree.FoodCredit, tree.Use, tree.LeaveOut, tree.LeaveOutStep, tree.Add, tree.ChangeStep, tree.CreditAs, tree.Fits,
    tree.Closed, tree.Tested,
)  # fmt: skip


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    yield from _says_both(subject)
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


def _says_both(subject: Subject) -> Iterator[Finding]:
    """A food that credits, and that credits nothing."""
    nothing = next((line for line in subject.body.lines if isinstance(line, tree.CreditsNothing)), None)
    credit = next((line for line in subject.body.lines if isinstance(line, tree.FoodCredit)), None)
    if nothing is not None and credit is not None:
        yield subject.finding(
            nothing,
            "This food says that it credits nothing, and on another line what it credits.",
            mend="keep one of the two",
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
    if isinstance(line, tree.CreditsNothing | tree.Claims):
        return "credits"
    if isinstance(line, tree.Allergens):
        return line.verb
    if isinstance(line, tree.Day):
        return ("day", fold(line.weekday.text) if line.weekday else "", line.date.text if line.date else "")
    if isinstance(line, tree.Change):
        return ("change", _key(line.line))
    return type(line)
