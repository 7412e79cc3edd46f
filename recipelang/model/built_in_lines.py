"""`as in the pantry`: a food's own lines, and of the built-in food of its name the lines that it leaves unsaid."""

from __future__ import annotations

from typing import Any, Final

from recipelang.model.measures import EACH_NODE, node_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import ANYTHING, Body, Word
from recipelang.units.amount import read_amount

LINE: Final = "as in the pantry"

CREDITS, EVIDENCE, CONTROL, NUTRITION, WEIGHT, PARENT = (
    "credits",
    "evidence",
    "control",
    "nutrition",
    "weight",
    "parent",
)
CONTAINS, ARRIVES = "contains", "arrives"

_KINDS: Final[dict[type, str]] = {
    tree.FoodCredit: CREDITS, tree.CreditsNothing: CREDITS, tree.GrainGroup: CREDITS, tree.CreditableGrain: CREDITS,
    tree.OtherGrain: CREDITS, tree.Acidity: CONTROL, tree.Nutrition: NUTRITION, tree.EdibleShare: PARENT, tree.LeftFrom: PARENT,
    tree.Arrives: ARRIVES, tree.Keeps: "keeps", tree.Milk: "milk", tree.Caffeine: "caffeine", tree.LabelRead: "label read",
    tree.Pack: "pack", tree.Price: "price",
}  # fmt: skip
_FACTS: Final = {"tcs": CONTROL, "not tcs": CONTROL, "imported": "origin", "domestic": "origin"}
_BROKEN: Final = {
    "tcs": CONTROL, "not tcs": CONTROL, "ph": CONTROL, "water activity": CONTROL, "credits": CREDITS, "grain group": CREDITS,
    "creditable grain": CREDITS, "other grain": CREDITS, "left from": PARENT, "imported": "origin", "domestic": "origin",
}  # fmt: skip
_SAFE_ONLY_IF_READ: Final = frozenset({CONTAINS, "may contain", CONTROL, ARRIVES, CREDITS, EVIDENCE, PARENT})
"""What a line that can't be read at all may have said: of that nothing is taken from elsewhere, for unknown is never safe."""


def built_in_line(body: Body) -> tree.Fact | None:
    """The line that takes a food to be as the built-in one, if it has one."""
    return next((line for line in body.lines if isinstance(line, tree.Fact) and line.name == LINE), None)


def with_built_in(own: Body, built_in: Body, line: tree.Fact) -> Body:
    """A food's lines with those of the built-in food that it leaves unsaid, which stand where `line` does. What its own
    broken lines may have said stays unknown."""
    said = {subject_of(one) for one in own.lines}
    said |= {_BROKEN.get(word, word) for word in own.broken}
    if ANYTHING in own.broken or any(word[:1].isdigit() for word in own.broken):
        said |= _SAFE_ONLY_IF_READ
    said |= {EVIDENCE} if CREDITS in said else set()
    weighs = own.broken & {"weighs", "each weighs"}
    taken = tuple(
        _moved(one, line)
        for one in built_in.lines
        if subject_of(one) not in said and not (weighs and isinstance(one, tree.Weighs))
    )
    return own._replace(lines=(*own.lines, *taken))


def subject_of(line: Any) -> object:
    """What a line of a food speaks of; of two lines of one subject the food's own counts. A weight speaks of its measure."""
    if isinstance(line, tree.Fact):
        return _FACTS.get(line.name, line.name)
    if isinstance(line, tree.Field):
        return line.name
    if isinstance(line, tree.Allergens):
        return line.verb
    if isinstance(line, tree.Weighs):
        per = read_amount(line.per.text, True).quantity if line.per is not None else None
        return (WEIGHT, EACH_NODE if line.per is None else fold(line.per.text) if per is None else node_of(per.unit))
    return _KINDS.get(type(line), type(line).__name__)


def _moved(node: Any, line: tree.Fact) -> Any:
    """A line of another declaration with all its places at a line of this one."""
    if isinstance(node, Word):
        return Word(node.text, line.start)
    if not isinstance(node, tuple):
        return node
    fields = getattr(node, "_fields", None)
    if fields is None:
        return tuple(_moved(one, line) for one in node)
    changed = {field: _moved(getattr(node, field), line) for field in fields}
    changed.update({field: getattr(line, field) for field in ("start", "end") if field in changed})
    made: Any = node
    return made._replace(**changed)
