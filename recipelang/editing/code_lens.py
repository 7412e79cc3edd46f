"""The figures that stand above a declaration: what a portion credits, costs and holds, what a menu falls short of, and
who uses it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from recipelang.editing.inlay_hints import is_unstated
from recipelang.editing.references import Site, Symbol, sites_of
from recipelang.evaluate.names import kind_of
from recipelang.evaluate.unknown import Total
from recipelang.facts.menu.dietary_specifications import GroupDiet, diet_of
from recipelang.facts.menu.meals import GroupMeals, meals_of
from recipelang.facts.menu.menu import menu_of
from recipelang.facts.menu.needs import Met
from recipelang.facts.recipe.allergens import allergens_of
from recipelang.facts.recipe.batch import lines_of
from recipelang.facts.recipe.cost import cost_of
from recipelang.facts.recipe.credits import Row, credits_of
from recipelang.facts.recipe.derivation import credit_text
from recipelang.facts.recipe.nutrients import nutrients_of
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.components import VEGETABLE
from recipelang.model.menu import A_LA_CARTE
from recipelang.model.names import Ref
from recipelang.model.needs import need_title
from recipelang.output.recipe_text import dollars
from recipelang.output.without_text import without_title
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text
from recipelang.versions.out_of_stock import Uses
from recipelang.workspace.source_file import home_of
from recipelang.workspace.workspace import Workspace

USED: Final = "used"
SINCE: Final = "since the last commit"
WITHOUT: Final = "without it"


class Lens(Record):
    """A figure above a declaration: of what, which, and where the declaration's name stands in the file."""

    ref: Ref
    figure: str
    start: int
    end: int


def lenses_in(workspace: Workspace, path: str, is_changed: Callable[[Ref], bool] = lambda _: False) -> Iterator[Lens]:
    """The figures of a file's declarations; what they are is worked out when they come into sight. Above one that is
    changed stands what has become of it since the last commit."""
    for one in workspace.files[path].declarations:
        home = home_of(path, one)
        ref = workspace.ref_at(home)
        if ref is None or not workspace.is_meant(home, ref):
            continue
        figures: Iterable[str] = FIGURES.get(one.kind, ())
        if one.kind == "menu" and menu_of(workspace.facts, ref).program == A_LA_CARTE:
            figures = ()
        for figure in (SINCE, *figures) if is_changed(ref) else figures:
            yield Lens(ref, figure, one.start + one.name_start, one.start + one.name_end)


def lens_text(workspace: Workspace, ref: Ref, figure: str) -> str:
    """A figure of a declaration; empty where there is no such declaration any more."""
    told = FIGURES.get(kind_of(workspace.facts, ref), {}).get(figure)
    return "" if told is None else told(workspace, ref)


def traced(workspace: Workspace, ref: Ref, figure: str) -> str:
    """What a figure is called where it is traced; empty for one that is not."""
    if figure in (USED, SINCE, WITHOUT) or (figure == "needs" and kind_of(workspace.facts, ref) == "menu"):
        return ""
    return figure


def uses(workspace: Workspace, ref: Ref) -> Iterator[list[Site]]:
    """Where a declaration is named beside its own place, file by file: in a large library a look at all takes a while."""
    for path in sorted(workspace.files):
        yield [site for site in sites_of(workspace, Symbol(ref), [path]) if not site.is_declaring]


def used_text(workspace: Workspace, sites: Iterable[Site]) -> str:
    """How many declarations of each kind name one."""
    kinds = Counter(workspace.files[home.path].by_home[home].kind for home in {site.home for site in sites})
    told = [counted(kinds[kind], kind) for kind in FIGURES if kinds[kind]]
    return f"used by {listed(told)}" if told else "used nowhere in this library"


# ---- recipes ---------------------------------------------------------------------------------------------------------


def _credits(workspace: Workspace, ref: Ref) -> str:
    facts = workspace.facts
    credits = credits_of(facts, ref)
    rows = [
        _credited(row)
        for row in credits.rows
        if row.credited and not (row.component.name == VEGETABLE and row.component.subgroup is None)
    ]
    rows += [f"{component.title} unknown" for component in credits.unknown]
    unstated = dict.fromkeys(
        [*(one.line.name for one in lines_of(facts, ref) if is_unstated(facts, one)), *credits.unstated]
    )
    if not rows:
        rows = ["unknown" if credits.gaps or unstated else "nothing"]
    text = f"a portion credits {', '.join(rows)}"
    uncounted = dict.fromkeys(gap.name for gap in credits.gaps if gap.name not in {*unstated, *credits.unstated})
    if uncounted:
        text += f"; not counted: {shortlist(uncounted, 3)}"
    if unstated:
        text += f"; not stated for {shortlist(unstated, 3)}"
    return text


def _credited(row: Row) -> str:
    text = f"{credit_text(row.credited, row.component)} {row.component.title}"
    if row.credited_least == row.credited:
        return text
    least = credit_text(row.credited_least, row.component) if row.credited_least else "nothing"
    return f"{text} (at least {least} by the alternatives)"


def _cost(workspace: Workspace, ref: Ref) -> str:
    cost = cost_of(workspace.facts, ref)
    portion = cost.portion
    if portion.known is None:
        return "cost unknown"
    return f"{'at least ' if portion.missing else ''}{dollars(portion.known)} a portion"


def _calories(workspace: Workspace, ref: Ref) -> str:
    nutrients = nutrients_of(workspace.facts, ref)
    return _calories_text(dict(nutrients.per_portion()).get("calories", Total(None)))


def _calories_text(found: Total) -> str:
    if found.known is None:
        return "calories unknown"
    return f"{'at least ' if found.missing else ''}{decimal_text(found.known, 0)} calories"


def _allergens(workspace: Workspace, ref: Ref) -> str:
    """Never without the caution: a label that nobody read says nothing."""
    found = allergens_of(workspace.facts, ref)
    parts = [f"contains {', '.join(found.names)}"] if found.contains else []
    perhaps = [name for name, _ in found.may_contain if name not in found.names]
    parts += [f"may contain {', '.join(perhaps)}"] if perhaps else []
    if found.unknown:
        parts.append(f"allergens unknown of {shortlist(dict.fromkeys(road[-1] for road in found.unknown), 3)}")
    parts = parts or ["no label that was read names one of the nine allergens"]
    return f"{'; '.join(parts)} (check every package)"


# ---- menus -----------------------------------------------------------------------------------------------------------


def _needs(workspace: Workspace, ref: Ref) -> str:
    """What each group's meals fall short of, or what is not known of it."""
    facts = workspace.facts
    menu = menu_of(facts, ref)
    meals: tuple[GroupMeals, ...] = () if menu.is_broken else meals_of(facts, ref)
    told = [f"{one.group.grades.title}: {_met(one)}" for one in meals]
    return "; ".join(told) or "nothing can be computed"


def _met(one: GroupMeals) -> str:
    if one.pattern is None:
        return "no table for them as one group"
    if not any(week.days for week in one.weeks):
        return "no days"
    needs = [need for week in one.weeks for need in (*(need for day in week.days for need in day.needs), *week.needs)]
    short = _titles(need for need in needs if need.is_met is False)
    if short:
        return f"short of {', '.join(short)}"
    unknown = _titles(need for need in needs if need.is_met is None)
    return f"not known: {', '.join(unknown)}" if unknown else "all component amounts met"


def _titles(needs: Iterator[Met]) -> list[str]:
    return [*dict.fromkeys(need_title(need.name) for need in needs)]


def _average(workspace: Workspace, ref: Ref) -> str:
    """The calories of each group's average meal, from the least of its weeks to the most."""
    menu = menu_of(workspace.facts, ref)
    diets: tuple[GroupDiet, ...] = () if menu.is_broken else diet_of(workspace.facts, ref)
    told = [f"{one.group.grades.title} {_span([week.average('calories') for week in one.weeks])}" for one in diets]
    return f"average meal: {'; '.join(told)}" if told else "no average meal"


def _span(found: list[Total]) -> str:
    known: list[Fraction] = [one.known for one in found if one.known is not None]
    if len(known) < len(found) or not known:
        return "calories unknown"
    low, high = (decimal_text(value, 0) for value in (min(known), max(known)))
    least = "at least " if any(one.missing for one in found) else ""
    return f"{least}{low}{f' to {high}' if high != low and not least else ''} calories"


# ---- all of them -----------------------------------------------------------------------------------------------------


def _used(workspace: Workspace, ref: Ref) -> str:
    return used_text(workspace, (site for sites in uses(workspace, ref) for site in sites))


def _without(workspace: Workspace, ref: Ref) -> str:
    uses = Uses(workspace.facts, workspace.recipe_refs(), ())
    return without_text(uses, ref)


def without_text(uses: Uses, ref: Ref) -> str:
    """What becomes of the dishes without a food or a container."""
    return f"without it: {without_title(uses.without(ref))}"


Figure = Callable[[Workspace, Ref], str]

_OF_A_PORTION: Final[dict[str, Figure]] = {
    "credits": _credits,
    "cost": _cost,
    "calories": _calories,
    "allergens": _allergens,
    USED: _used,
}
FIGURES: Final[Mapping[str, Mapping[str, Figure]]] = {
    "recipe": _OF_A_PORTION,
    "variation": _OF_A_PORTION,
    "menu": {"needs": _needs, "calories": _average},
    "food": {USED: _used, WITHOUT: _without},
    "container": {USED: _used, WITHOUT: _without},
}
"""The figures of each kind of declaration, in the order in which they stand."""
