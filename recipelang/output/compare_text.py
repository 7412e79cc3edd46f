"""What a change means, for people: by the lines that were changed, worst first, or by the declarations that differ."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from recipelang.facts.outcome.values import Room
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.names import Ref
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.compared_values import ARROW, change_words, figure_title
from recipelang.text.visible import visible
from recipelang.versions.causes import SETTINGS
from recipelang.versions.comparison import Comparison
from recipelang.versions.effects import ALLERGENS, FINDINGS, MENUS, Effect, is_less

_MOST_NAMES: Final = 6
_MOST_SENTENCES: Final = 3
_MOST_LINES: Final = 4
_MOST_FIGURES: Final = 2
AVERAGE: Final = "the average meal"
OFFERED: Final = "offered"
_LABEL: Final = 28


def comparison_lines(made: Comparison, by: str = "cause") -> list[str]:
    """The whole report."""
    lines = [heading(made), *(f"note: {note}" for note in made.notes)]
    lines += [] if by == "recipe" else list(_causes(made))
    lines += list(_recipes(made)) if by == "recipe" else []
    rest = list(rest_lines(made))
    lines += ["", *rest] if rest else []
    if any(effect.category == ALLERGENS for effect in made.effects):
        lines += ["", ALLERGEN_CAUTION]
    return list(map(visible, lines))


def heading(made: Comparison) -> str:
    """One line: which versions, and how much was changed."""
    counts = made.counts
    said = [
        f"{counted(number, 'declaration') if not at else number} {what}"
        for at, (number, what) in enumerate(
            one
            for one in (
                (counts.edited, "changed"), (counts.added, "added"), (counts.removed, "removed"),
                (counts.renamed, "renamed"), (counts.moved, "moved"), (counts.laid_out, "in comments or layout only"),
            )
            if one[0]
        )
    ]  # fmt: skip
    others = sum(one.is_other for one in made.difference.declarations)
    what = ", ".join(said) if said else "no declaration changed"
    if made.difference.has_other_settings:
        what += ", other settings"
    become = f"{others} {'is' if others == 1 else 'are'} something else" if others else "nothing computed differs"
    return f"{made.older} to {made.newer}: {what}; {become}"


# ---- by cause --------------------------------------------------------------------------------------------------------


def _causes(made: Comparison) -> Iterator[str]:
    for ref, found in made.by_cause.items():
        yield ""
        yield cause_heading(made, ref)
        for label, detail in effect_lines(made, found, ref):
            yield f"  {label:<{_LABEL}}  {detail}".rstrip()


def cause_heading(made: Comparison, ref: Ref) -> str:
    """Where a change stands, and what it was: `foods.recipe:8  whipped ricotta: contains milk -> milk, soy`."""
    cause = made.cause(ref)
    place = f"{cause.path}:{cause.line}" if cause.line else cause.path
    lines = [] if cause.kind == "swap" else list(changed_words(cause.lines))
    shown = lines if len(lines) <= _MOST_LINES else [*lines[: _MOST_LINES - 1], f"{len(lines) - _MOST_LINES + 1} more"]
    imagined = " (imagined)" if cause.is_imagined else ""
    where = f"{place}  " if cause.path else ""
    what = "; ".join(shown) if shown else cause.what
    return f"{where}{cause.name}{imagined}{f': {what}' if what else ''}"


def changed_words(lines: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Changed lines, each with what stayed of it said once: `sodium 105 -> 280 mg`."""
    for before, after in lines:
        if not before or not after:
            yield f"{'added' if after else 'taken out'}: {after or before}"
            continue
        old, new = before.split(), after.split()
        head = 0
        while head < min(len(old), len(new)) - 1 and old[head] == new[head] and not old[head][:1].isdigit():
            head += 1
        tail = 0
        while tail < min(len(old), len(new)) - head - 1 and old[-1 - tail] == new[-1 - tail]:
            tail += 1
        was = " ".join(old[head : len(old) - tail]).rstrip(",")
        yield " ".join([*old[:head], was, ARROW, *new[head:]])


def effect_lines(made: Comparison, found: Iterable[Effect], cause: Ref = "") -> Iterator[tuple[str, str]]:
    """Effects of one cause, the same effect on many in one line: what it is, and on what."""
    grouped: dict[str, list[Effect]] = {}
    for effect in found:
        grouped.setdefault(label(effect), []).append(effect)
    for name, many in grouped.items():
        yield name, _on(made, many, cause)


def label(effect: Effect) -> str:
    """What an effect is called: `error allergen-claim-broken`, `gains soy`, `sodium of a portion`."""
    finding = effect.finding
    if finding is not None:
        return f"{finding.severity} {finding.rule}" if effect.came else f"no more {finding.rule}"
    name = effect.name
    if name.startswith(("contains ", "may contain ")):
        allergen = name.removeprefix("contains ").removeprefix("may contain ")
        may = "may contain " if name.startswith("may") else ""
        if effect.before is not None and effect.after is not None:
            return f"kinds of {allergen}"
        if effect.after is None and effect.is_guess:
            return f"no longer known to contain {allergen}"
        if effect.after is None:
            return f"no longer {may or 'contains '}{allergen}"
        return f"gains {allergen}" if effect.is_loss and not may else f"now {may or 'contains '}{allergen}"
    if name == "allergens unknown":
        return "allergens unknown" if effect.is_loss else "allergens better known"
    if effect.category == MENUS:
        return AVERAGE if " average " in name else OFFERED
    if isinstance(effect.before, Room) and isinstance(effect.after, Room) and effect.before.room != effect.after.room:
        less = is_less(effect.before, effect.after)
        return f"{'less' if less else 'more'} room in {name.removeprefix('fill ')}"
    return figure_title(name)


def _on(made: Comparison, many: list[Effect], cause: Ref) -> str:
    """The declarations that an effect is on, with their figures; what a finding says, while there are few."""
    first = many[0]
    if first.finding is not None:
        if len(many) > _MOST_SENTENCES or not first.came:
            return shortlist(dict.fromkeys(made.name(one.ref) for one in many), _MOST_NAMES)
        told = [f"{made.name(one.ref)}: {one.finding.message}{_with(made, one, cause)}" for one in many if one.finding]
        return " | ".join(told)
    if first.category == ALLERGENS and first.name != "allergens unknown" and None in (first.before, first.after):
        return shortlist((f"{made.name(one.ref)}{_with(made, one, cause)}" for one in many), _MOST_NAMES)
    if first.category == MENUS:
        return _on_menus(made, many)
    if "room in " in label(first):
        return shortlist((f"{made.name(one.ref)}{_with(made, one, cause)}" for one in many), _MOST_NAMES)
    told = [
        f"{made.name(one.ref)} {change_words(one.name, one.before, one.after)}{_with(made, one, cause)}" for one in many
    ]
    if len(told) > _MOST_NAMES:
        told = [*told[: _MOST_NAMES - 1], f"{len(told) - _MOST_NAMES + 1} more"]
    return "; ".join(told)


def _on_menus(made: Comparison, many: list[Effect]) -> str:
    """Menus have dozens of figures: of each the first few, and how many more differ."""
    by_menu: dict[Ref, list[Effect]] = {}
    for one in many:
        by_menu.setdefault(one.ref, []).append(one)
    told: list[str] = []
    for ref, found in by_menu.items():
        shown = [f"{one.name} {change_words(one.name, one.before, one.after)}" for one in found[:_MOST_FIGURES]]
        more = f"; {len(found) - _MOST_FIGURES} more" if len(found) > _MOST_FIGURES else ""
        told.append(f"{made.name(ref)}: {'; '.join(shown)}{more}")
    if len(told) > _MOST_NAMES:
        told = [*told[: _MOST_NAMES - 1], f"{len(told) - _MOST_NAMES + 1} more menus"]
    return " | ".join(told)


def _with(made: Comparison, effect: Effect, cause: Ref) -> str:
    """What else an effect comes from, and how much of it is whose."""
    others = [one for one in effect.causes.causes if one.ref != cause]
    if not others or not cause:
        return ""
    names = listed(made.cause(one.ref).name for one in others)
    if not effect.causes.is_sorted:
        return f" (perhaps {names})"
    return f" (together with {names})" if effect.causes.together else f" (also by {names})"


# ---- by recipe -------------------------------------------------------------------------------------------------------


def _recipes(made: Comparison) -> Iterator[str]:
    by_ref: dict[Ref, list[Effect]] = {}
    for effect in made.effects:
        by_ref.setdefault(effect.ref, []).append(effect)
    for one in made.difference.declarations:
        found = by_ref.get(one.ref, [])
        if not found:
            continue
        path, line = made.place(one.ref)
        yield ""
        yield f"{path}:{line}  {one.name}{f', before {one.was}' if one.was else ''}"
        for effect in found:
            words = sentence(effect)
            names = listed(dict.fromkeys(made.cause(cause.ref).name for cause in effect.causes.causes))
            yield f"  {label(effect):<{_LABEL}}  {words + ', ' if words else ''}by {names}"


def sentence(effect: Effect) -> str:
    """What an effect is on its declaration, beside its label; empty where the label says it all."""
    if effect.finding is not None:
        return effect.finding.message if effect.came else ""
    if effect.category == ALLERGENS and None in (effect.before, effect.after) and effect.name != "allergens unknown":
        return ""
    return change_words(effect.name, effect.before, effect.after)


# ---- what has no effect ----------------------------------------------------------------------------------------------


def rest_lines(made: Comparison) -> Iterator[str]:
    """Renames, what was added and taken away, what could not be read, and edits that change nothing."""
    difference = made.difference
    for one in difference.renames.followed:
        if made.was_damaged(one.older):
            continue  # its name could not be read
        follow = f" ({counted(one.lines, 'line')} {'follows' if one.lines == 1 else 'follow'} it)" if one.lines else ""
        yield f"renamed  {made.older_name(one.older)} {ARROW} {made.name(one.newer)}{follow}"
    for two in difference.renames.perhaps:
        yield f"perhaps renamed  {made.older_name(two.older)} {ARROW} {listed(map(made.name, two.newer), 'or')}"
    states: dict[str, list[str]] = {}
    for one_of in difference.declarations:
        if one_of.state in ("added", "removed"):
            states.setdefault(one_of.state, []).append(f"{one_of.kind} {one_of.name}")
        if one_of.unread_before and not one_of.unread_after:
            states.setdefault("could not be read before", []).append(one_of.name)
        elif one_of.unread_after:
            states.setdefault("can't be read", []).append(one_of.name)
    for state, names in states.items():
        yield f"{state}  {shortlist(names, 12)}"
    quiet = [
        one.name
        for one in difference.declarations
        if one.is_edited and not one.is_other and not one.was and one.state == "changed"
    ]
    if difference.has_other_settings and SETTINGS not in made.by_cause:
        quiet.append(made.cause(SETTINGS).name)
    if quiet:
        yield f"edited, and nothing computed differs  {shortlist(quiet, 12)}"
    if made.unsorted:
        yield (
            f"{counted(made.unsorted, 'declaration')} with too many changes to try each by itself: all that come in "
            "question are named"
        )


__all__ = [
    "FINDINGS",
    "cause_heading",
    "changed_words",
    "comparison_lines",
    "effect_lines",
    "heading",
    "label",
    "rest_lines",
]
