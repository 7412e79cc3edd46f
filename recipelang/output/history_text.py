"""What became of a declaration, or of a library, commit by commit, as lines for people."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from recipelang.findings.wording import counted
from recipelang.output.compare_text import changed_words, label, sentence
from recipelang.output.compared_values import ARROW, value_words
from recipelang.text.visible import visible
from recipelang.versions.comparison import Comparison
from recipelang.versions.conditions import Condition
from recipelang.versions.effects import MENUS, Effect
from recipelang.versions.history import LibraryRow, Row
from recipelang.workspace.git import Commit

_LABEL: Final = 28
_MOST_FIGURES: Final = 6
CUT: Final = "older commits are not in this clone"


def commit_line(commit: Commit) -> str:
    """A commit as every row begins: `2026-09-01  8feb81c  the ricotta's new label`."""
    return visible(f"{commit.date}  {commit.id[:7]:<7}  {commit.subject}")


def row_lines(row: Row) -> Iterator[str]:
    """A commit, and what it made of the declaration, by which change."""
    made = row.comparison
    yield commit_line(row.commit)
    one = next((one for one in made.difference.declarations if one.ref == row.ref), None)
    if one is not None and one.was:
        yield visible(f"  renamed  {one.was} {ARROW} {one.name}")
    if one is not None and one.state in ("added", "removed"):
        yield f"  {one.state}"
    by_cause: dict[str, list[Effect]] = {}
    for effect in made.effects:
        if effect.ref == row.ref:
            heads = dict.fromkeys(_cause(made, cause.ref) for cause in effect.causes.causes)
            by_cause.setdefault(" and ".join(heads), []).append(effect)
    for cause, effects in by_cause.items():
        yield visible(f"  {cause}")
        for name, words in _effects(effects):
            yield visible(f"    {name:<{_LABEL}}  {words}".rstrip())
    if not by_cause and one is not None and one.state == "changed" and not one.was:
        yield "  edited, and nothing computed differs"


def _cause(made: Comparison, ref: str) -> str:
    cause = made.cause(ref)
    lines = list(changed_words(cause.lines))
    shown = lines if len(lines) < 4 else [*lines[:2], f"{len(lines) - 2} more"]
    return f"{cause.name}: {'; '.join(shown) if shown else cause.what}"


def _effects(effects: list[Effect]) -> Iterator[tuple[str, str]]:
    menus = [one for one in effects if one.category == MENUS]
    for one in effects:
        if one.category != MENUS:
            yield label(one), sentence(one)
    for one in menus[:_MOST_FIGURES]:
        yield one.name, sentence(one)
    if len(menus) > _MOST_FIGURES:
        yield f"and {counted(len(menus) - _MOST_FIGURES, 'more figure')}", ""


def library_lines(row: LibraryRow) -> Iterator[str]:
    """A commit, and how much of the library it made something else."""
    others = len(row.others)
    said = f"{counted(row.edited, 'declaration')} changed" if row.edited else "settings changed"
    become = f"{others} {'is' if others == 1 else 'are'} something else" if others else "nothing computed differs"
    yield f"{commit_line(row.commit)}  ({said}; {become})"
    if row.comparison is not None:
        for effect in row.comparison.effects:
            made = row.comparison
            causes = " and ".join(dict.fromkeys(made.cause(one.ref).name for one in effect.causes.causes))
            words = sentence(effect)
            yield visible(
                f"  {label(effect):<{_LABEL}}  {made.name(effect.ref)}{' ' + words if words else ''}, by {causes}"
            )


def series_lines(rows: Iterable[Row], figure: str) -> Iterator[str]:
    """A figure over time: a line for each commit that changed it."""
    before: object = rows  # no figure is this
    for row in rows:
        value = None if row.outcome is None else row.outcome.figures.get(figure)
        if value != before:
            gone = "removed" if row.outcome is None else value_words(figure, value)
            yield visible(f"{row.commit.date}  {row.commit.id[:7]:<7}  {gone:>14}  {row.commit.subject}")
        before = value


def when_lines(rows: Iterable[Row], wanted: Condition) -> Iterator[str]:
    """The commits with which a condition came to hold, and those with which it ceased to."""
    held = False
    for row in rows:
        holds = wanted.holds(row.outcome)
        if holds != held:
            yield commit_line(row.commit)
            yield f"  {'now' if holds else 'no longer'} {wanted.text}"
        held = holds
