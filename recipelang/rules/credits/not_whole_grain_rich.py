"""A recipe says that it is whole grain-rich, and less than half of its grain is whole.

Why
    Four fifths of the week's grains must be whole grain-rich, so a week is planned on this word.
Source
    7 CFR 210.2: whole grain-rich is at least 50 percent whole grain, the rest enriched.
Breaks
    food whole wheat flour
        creditable grain 100%, whole
    food enriched flour
        creditable grain 100%, enriched
    recipe dinner roll
        makes 100 portions of 1 each
        whole grain-rich
        //@ not-whole-grain-rich: "40%"
        grains by creditable grain, group B
        ingredients
            2 lb whole wheat flour
            3 lb enriched flour
Fixed
    food whole wheat flour
        creditable grain 100%, whole
    food enriched flour
        creditable grain 100%, enriched
    recipe dinner roll
        makes 100 portions of 1 each
        whole grain-rich
        grains by creditable grain, group B
        ingredients
            2 lb 8 oz whole wheat flour
            2 lb 8 oz enriched flour
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.facts.food.crediting import crediting_of
from recipelang.findings.finding import Figure, Finding
from recipelang.findings.wording import shortlist
from recipelang.rules.line_edits import without_line
from recipelang.rules.rule import RECIPE, Subject, rule
from recipelang.syntax import tree
from recipelang.units.numbers import decimal_text


@rule(RECIPE)
def check(subject: Subject) -> Iterator[Finding]:
    recipe = subject.recipe
    if recipe.whole_grain_rich is None:
        return
    credits = subject.credits
    if credits.whole_grain_rich is not False or credits.gaps:
        return
    scratch = credits.scratch
    share = ""
    if scratch is not None and scratch.creditable:
        share = f"{decimal_text(scratch.whole / scratch.creditable * 100, 1)}%"
    message = (
        f"The recipe says that it is whole grain-rich, but only {share} of its grain is whole."
        if share
        else "The recipe says that it is whole grain-rich, but not all of its grain products are."
    )
    yield subject.finding(
        recipe.whole_grain_rich,
        message,
        figures=(Figure("found", "whole", share or "unknown"), Figure("needed", "at least", "50%")),
        source="7 CFR 210.2, whole grain-rich",
        help=_help(subject),
        fixes=tuple(
            without_line(subject, "delete `whole grain-rich`", line)
            for line in subject.body.lines
            if isinstance(line, tree.Fact) and line.name == "whole grain-rich"
        ),
    )


def _help(subject: Subject) -> str:
    unsaid = [
        measured.line.name
        for measured in subject.lines
        if measured.food is not None
        and (stated := crediting_of(subject.facts, measured.food).creditable) is not None
        and not stated.says_whole
    ]
    out = "use more whole-grain flour, or leave the line out; a bought product needs its own `whole grain-rich` line"
    if not unsaid:
        return out
    names = shortlist(dict.fromkeys(unsaid))
    return f"say what the grain of {names} is, `creditable grain 100%, whole` or `enriched`; {out}"
