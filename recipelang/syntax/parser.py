"""The parse of one declaration, by the grammar's tables.

Parsing never fails: it gives what could be read and a list of problems.
"""

from __future__ import annotations

from typing import Any

from recipelang.syntax import messages
from recipelang.syntax.allowances import allowances_of
from recipelang.syntax.blocks import Broken, nest
from recipelang.syntax.brackets import unpaired_brackets
from recipelang.syntax.driver import driver
from recipelang.syntax.forms import FORMS, first_words
from recipelang.syntax.lost import lost_lines, without_lost_lines
from recipelang.syntax.misplaced import joined
from recipelang.syntax.split import KINDS, Declaration, body_for_parser, name_problem
from recipelang.syntax.token import Token
from recipelang.syntax.tree import ANYTHING, Body, Problem
from recipelang.text.source import LOST


def parse(declaration: Declaration, tokens: list[Token] | None = None) -> Body:
    """The body of a declaration. Raises nothing; stray text gives one problem. `tokens` is given what was read, a token
    at a time."""
    kind = declaration.kind
    problems: list[Problem] = []
    if kind not in KINDS:
        return Body((), (messages.stray(declaration),), (), frozenset())
    wrong = name_problem(declaration.name)
    if wrong is not None and LOST not in declaration.name:
        problems.append(messages.bad_name(declaration, wrong))
    source = body_for_parser(declaration)
    written = source
    if LOST in source:
        source = without_lost_lines(source)
    lines, broken = driver().read_lines(source, f"{kind}_body", tokens)
    found: list[Broken] = []
    lost: set[str] = set()
    for start, end in lost_lines(declaration.text):
        problems.append(messages.lost_line(start, end, declaration.text.startswith("//", start)))
        if LOST in written[start:end]:  # else it is a remark
            word = first_words(kind, written[start:end]) or ANYTHING
            found.append(Broken(start, word))
            lost.add(word)
            if word == ANYTHING and kind == "food":
                lost.update(FORMS["food"])  # it may have been the line on allergens
    for error in broken:
        problem, word = messages.broken_line(kind, source, error)
        problems.append(problem)
        found.append(Broken(error.line_start, word))
        lost.add(word)
        if "contain" in source[error.line_start : error.line_end].casefold():
            lost.add("contains")  # however a statement on allergens is misspelled, it is unknown from here on
    nested = nest(kind, lines, found, problems, lost, parse_recipe_line)
    if "[" in source or "]" in source:
        unpaired = list(unpaired_brackets(nested))
        problems += unpaired
        lost.update(["steps"] * bool(unpaired))  # what the step names is unknown
    problems = [joined(one, declaration.text) for one in problems]
    problems.sort()
    # a line in the wrong place says something, if not here: what it would have said is unknown, not missing
    misplaced = (source[one.start : one.end] for one in problems if one.rule == "misplaced-line")
    lost.update(messages.begins_with(kind, line) for line in misplaced)
    return Body(nested, tuple(problems), allowances_of(declaration), frozenset(lost))


def parse_recipe_line(text: str, start: int) -> list[Any]:
    """One line of a recipe standing elsewhere (`change makes 40 portions`), its places as if it stood at `start`; an
    empty list where it can't be read."""
    source = "\n" + " " * (start - 1) + text + "\n"
    lines, broken = driver().read_lines(source, "recipe_body")
    return [] if broken else lines
