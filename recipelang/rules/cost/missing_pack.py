"""A price is for a pack, and nothing says what the pack holds.

Why
    `price 38.60 per case` costs nothing until somebody says how much a case is: every recipe leaves the food out of its
    cost. A container has a price for one.
Source
    common practice, no source
Breaks
    food whipped ricotta
        price 38.60 per case
        //@ missing-pack: "nothing says how much a case holds"
Fixed
    food whipped ricotta
        pack 4 tubs of 5 lb
        price 38.60 per case
Leaves alone
    food honey bear
        price 3.20 per bottle
        weighs 340 g per bottle
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import WARNING, Finding
from recipelang.findings.wording import a
from recipelang.model.measures import EACH_NODE, node_of
from recipelang.model.shared_lines import read_price
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.units.table import MASS, VOLUME


@rule(DECLARATION, WARNING)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind not in ("food", "container"):
        return
    lines = [(line, read_price(line, [])) for line in subject.body.lines if isinstance(line, tree.Price)]
    for line, read in lines:
        node = "" if read is None else node_of(read[1].unit)
        if subject.kind == "container" and node and node != EACH_NODE:
            yield subject.finding(
                line,
                f"The price of {subject.name} is for {a(node)}; a container's price is for one of it.",
                help="write the price of one, as in `price 0.11 each`",
            )
        elif subject.kind == "food" and node and not _is_known(subject, node):
            yield subject.finding(
                line,
                f"The price of {subject.name} is per {node}, and nothing says how much {a(node)} holds.",
                help="add a line like `pack 4 tubs of 5 lb`"
                if node == "case"
                else f"add a line like `weighs 340 g per {node}`",
            )


def _is_known(subject: Subject, node: str) -> bool:
    """Whether a weight, a volume or a number of pieces is known of a kind of measure."""
    measures = subject.food.measures
    if node in (MASS, VOLUME, EACH_NODE) or measures.unread:
        return True
    return any(measures.rate(node, target) is not None for target in (MASS, VOLUME, EACH_NODE))
