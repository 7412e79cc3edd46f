"""What a change means, as a comment under a review: what weighs most in a table, then a fold for each change.

Whatever a name holds comes out as text: nothing in it makes a table, a tag, a mention or a link. Cut where comments end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from recipelang.findings.finding import ERROR
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.names import Ref
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.compare_text import cause_heading, effect_lines, heading, label, rest_lines
from recipelang.output.compared_values import change_words
from recipelang.text.visible import visible
from recipelang.versions.comparison import Comparison
from recipelang.versions.effects import ALLERGENS, CREDITS, Effect

MOST_LETTERS: Final = 60_000
"""A comment may hold 65,536 characters on the usual services (from memory, not checked against their documents)."""
_MOST_ROWS: Final = 40
_SPECIAL: Final = re.compile(r"[\\`*_{}\[\]<>#|~!&$]")


def comparison_markdown(made: Comparison) -> str:
    """The comment."""
    head = ["### What this change means for the recipes", "", escaped(heading(made)), ""]
    head += [f"*{escaped(note)}*\n" for note in made.notes]
    rows = list(_rows(made))
    if rows:
        head += ["| what | where | because of |", "| --- | --- | --- |", *rows[:_MOST_ROWS]]
        head += [f"| … | {len(rows) - _MOST_ROWS} more | |"] if len(rows) > _MOST_ROWS else []
        head.append("")
    elif made.by_cause:
        head += ["No error comes with it, no credit is lost and no allergen is gained.", ""]
    foot = [f"- {escaped(line)}" for line in rest_lines(made)]
    if any(effect.category == ALLERGENS for effect in made.effects):
        foot += ["", f"*{escaped(ALLERGEN_CAUTION)}*"]
    left = MOST_LETTERS - len("\n".join([*head, *foot])) - 200
    folds: list[str] = []
    for number, ref in enumerate(made.by_cause):
        fold = _fold(made, ref)
        left -= len(fold) + 1
        if left < 0:
            folds.append(
                f"{counted(len(made.by_cause) - number, 'more change')} left out: the comment would be too long."
            )
            break
        folds.append(fold)
    return "\n".join([*head, *folds, *foot]).rstrip() + "\n"


def escaped(text: str) -> str:
    """A text that is no Markdown and no HTML, and that mentions nobody."""
    text = visible(text).replace(" -> ", " → ")
    text = _SPECIAL.sub(lambda match: f"&#{ord(match[0])};", text)
    return text.replace("@", "&#64;<!-- -->").replace("&#35;", "&#35;<!-- -->").replace("://", ":<!-- -->//")


def _rows(made: Comparison) -> Iterator[str]:
    """What a reviewer must see: errors with their sentences, credits lost, allergens gained."""
    grouped: dict[tuple[str, str], list[Effect]] = {}
    for effect in made.effects:
        error = effect.finding is not None and effect.came and effect.finding.severity == ERROR
        if error or (effect.is_loss and effect.category in (CREDITS, ALLERGENS)):
            because = listed(made.cause(cause.ref).name for cause in effect.causes.causes[:3])
            grouped.setdefault((label(effect), because), []).append(effect)
    for (what, because), many in grouped.items():
        first = many[0]
        if first.finding is not None and len(many) == 1:
            where = f"{made.name(first.ref)}: {first.finding.message}"
        elif first.category == CREDITS:
            where = shortlist(
                (f"{made.name(one.ref)} {change_words(one.name, one.before, one.after)}" for one in many), 8
            )
        else:
            where = shortlist((made.name(one.ref) for one in many), 12)
        yield f"| {escaped(what)} | {escaped(where)} | {escaped(because)} |"


def _fold(made: Comparison, ref: Ref) -> str:
    found = made.by_cause[ref]
    touched = len({effect.ref for effect in found})
    errors = sum(one.finding is not None and one.came and one.finding.severity == ERROR for one in found)
    count = f"{counted(errors, 'error')}, " if errors else ""
    lines = [f"- **{escaped(what)}** {escaped(detail)}" for what, detail in effect_lines(made, found, ref)]
    if not lines:
        lines = ["- nothing else differs"]
    touches = f"touches {counted(touched, 'declaration')}" if touched else "touches nothing else"
    summary = f"<summary>{escaped(cause_heading(made, ref))} ({count}{touches})</summary>"
    return "\n".join(["<details>", summary, "", *lines, "", "</details>", ""])
