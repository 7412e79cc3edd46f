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

from collections.abc import Iterable, Iterator
from typing import Any, Final

from recipelang.evaluate.names import source_of
from recipelang.findings.finding import Finding, Place, Related
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.rules.line_edits import without_line
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.units.amount import read_amount

_MANY = (
    tree.FoodCredit, tree.Use, tree.LeaveOut, tree.LeaveOutStep, tree.Add, tree.ChangeStep, tree.CreditAs, tree.Fits,
    tree.Closed, tree.Tested, tree.AlsoCalled,
)  # fmt: skip


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
                fixes=(
                    without_line(subject, "keep the first", line),
                    without_line(subject, "keep this one", first),
                ),
            )


def _notes(subject: Subject) -> Iterator[Finding]:
    """Lines with two notes of one kind: the later counts, and nobody sees it."""
    for one in _repeated(subject.body.lines):
        yield subject.finding(
            one,
            f"This line says twice {_SAID[one.kind]}.",
            help="keep one of the two",
            related=(Related(subject.place(one.first), "the first one"),),
        )


_SAID: Final = {
    "called": "what the ingredient is called",
    "credited_as": "what it credits as",
    "on_the_side": "that it is on the side",
    "discard": "how much of it is thrown away",
    "made": "how many are made",
    "items": "how many items it counts as",
    "price": "what it costs",
    "count": "how many are planned",
}


def _repeated(lines: Iterable[Any]) -> Iterator[tree.Repeated]:
    """The notes after commas that stand twice, of all lines that take notes."""
    for line in lines:
        if isinstance(line, tree.Ingredients | tree.Day | tree.Choose):
            yield from _repeated(line.lines)
        elif isinstance(line, tree.Add):
            yield from line.ingredient.notes.repeated
        elif isinstance(line, tree.Ingredient | tree.Use):
            yield from line.notes.repeated
        elif isinstance(line, tree.Serve):
            yield from (one for size in line.sizes for one in size.repeated)
        elif isinstance(line, tree.Sell):
            yield from line.repeated


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
    if isinstance(line, tree.Fact) and line.name == "item" and line.detail is not None:
        return ("item", fold(line.detail.text))  # each supplier has a number of its own
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
