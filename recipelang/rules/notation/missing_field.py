"""A declaration lacks the one line it can't do without.

Why
    A recipe without `makes` has no portion, one without ingredients nothing in it, a container without `holds` no size,
    a variation without `based on` nothing to vary, a menu without `program`, `meals` and days nothing to be held
    against; everything that is computed hangs on that line.
Source
    the notation
Breaks
    food sliced peaches
    recipe peach cup
    //     ^^^^^^^^^ missing-field: "makes"
        ingredients
            8 cup sliced peaches
Fixed
    food sliced peaches
    recipe peach cup
        makes 24 portions of 1/3 cup
        ingredients
            8 cup sliced peaches
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.evaluate.names import order_of, source_of
from recipelang.findings.finding import Finding
from recipelang.rules.rule import DECLARATION, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import STRAY

_NEEDED = {
    "recipe": (tree.Makes, "makes", "makes 50 portions of 3/4 cup", "how many portions it makes"),
    "container": (tree.Holds, "holds", "holds 12 fl oz", "how much it holds"),
    "variation": (tree.BasedOn, "based on", "based on apricot ricotta cup", "which recipe it varies"),
}
_MENU = (
    ("program", "program breakfast", "which program it is for"),
    ("meals", "meals 9-12 240", "how many meals it plans, and for which grades"),
)


@rule(DECLARATION)
def check(subject: Subject) -> Iterator[Finding]:
    if subject.kind == "menu":
        yield from _menu(subject)
        return
    if _is_cut_off(subject):
        return
    if subject.kind == "recipe":
        yield from _ingredients(subject)
    needed = _NEEDED.get(subject.kind)
    if needed is None:
        return
    kind, word, example, what = needed
    body = subject.body
    if body.broken & {word, tree.ANYTHING} or any(isinstance(line, kind) for line in body.lines):
        return
    if subject.kind == "container" and any(isinstance(line, tree.Fits) for line in body.lines):
        return  # a box for pieces is measured by how many fit
    wrap = "; what is wrapped around pieces has `fits 1 of NAME`" if subject.kind == "container" else ""
    yield subject.finding(None, f"{subject.name} doesn't say {what}.", help=f"add a line like `{example}`{wrap}")


def _is_cut_off(subject: Subject) -> bool:
    """Whether a line in the first column ends the declaration too soon: what is missing may stand under it."""
    homes = order_of(subject.facts, subject.home.path)
    after = homes.index(subject.home) + 1 if subject.home in homes else len(homes)
    return after < len(homes) and source_of(subject.facts, homes[after]).kind == STRAY


def _ingredients(subject: Subject) -> Iterator[Finding]:
    """Told as soon as the recipe says what it makes: before that it is hardly begun."""
    recipe = subject.recipe
    if recipe.portions and not recipe.lines and not recipe.broken:
        yield subject.finding(
            None, f"{subject.name} lists no ingredients, so nothing is known of what it credits and contains.",
            help="write `ingredients`, and under it a line like `12 lb canned apricots drained`",
        )  # fmt: skip


def _menu(subject: Subject) -> Iterator[Finding]:
    body, menu = subject.body, subject.menu
    if tree.ANYTHING in body.broken or any(problem.rule == "misplaced-line" for problem in body.problems):
        return  # it may be said by a line that can't be read, or that stands in the wrong place
    said = {"program": menu.program_spot is not None, "meals": menu.meals_spot is not None}
    for word, example, what in _MENU:
        if word not in body.broken and not said[word]:
            yield subject.finding(None, f"{subject.name} doesn't say {what}.", help=f"add a line like `{example}`")
    if not menu.days and not menu.is_broken:
        yield subject.finding(
            None, f"{subject.name} has no days.", help="write a day such as `monday`, and `serve` lines under it"
        )
