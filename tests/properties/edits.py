"""Edits drawn at random: declarations inserted, deleted, moved from file to file, lines broken, fixed, swapped and
moved, names exchanged, files taken away and brought back."""

from __future__ import annotations

import re
from typing import Any

from hypothesis import strategies as st

from recipelang import Workspace
from recipelang.syntax.split import split
from tests.properties.slips import CLEAN, SLIPS, declarations

PATHS = ("a.recipe", "b/c.recipe", "d.recipe")

MORE = (
    # two ways round a circle, a variation of a variation, and one based on itself
    "recipe starter dough\n    makes 10 portions of 1 each\n    ingredients\n        2 portions rested dough\n"
    "        1 lb whole wheat flour\n",
    "recipe rested dough\n    makes 10 portions of 1 each\n    made without soy\n    ingredients\n"
    "        5 portions starter dough\n        1 cup low-fat milk\n",
    "variation rested roll\n    based on rested dough\n    use harbor roll instead of starter dough\n",
    "variation twice rested roll\n    based on rested roll\n    add 2 portions rested dough\n    change makes 12 portions\n",
    "variation odd roll\n    based on odd roll\n    leave out milk\n",
    # second declarations of a name, one that hides the pantry's, one that a recipe waits for
    "food Whipped  Ricotta\n    weighs 250 g per cup\n    contains milk\n",
    "recipe harbor roll\n    makes 2 portions\n    ingredients\n        1 cup whole wheat flour\n",
    "food baking powder\n    contains soy\n",
    "recipe pantry bread\n    makes 20 portions of 1 oz\n    made without soy, egg\n    ingredients\n"
    "        1 lb whole wheat flour, not credited\n        1 tbsp baking powder\n        2 each sea biscuit\n",
    "food sea biscuit\n    each weighs 30 g\n    credits 1 oz eq grain per each\n    evidence regulation\n",
    "container clear cup 12\n    holds 8 fl oz\n    headspace 1/2 fl oz\n",
    "menu clear cup 12\n    program lunch\n    monday\n        serve harbor roll, 20\n",
    # what is no declaration
    "stray words at the margin\n    and below\n",
    "fod sea biscuit\n    each weighs 30 g\n",
    "// a comment between declarations\n",
    "    an indented line that belongs to what stands above\n",
    "food\n    weighs 5 g per cup\n",
    "food bad, name\n    contains egg\n",
)
WORDS = (
    "whipped ricotta", "canned apricots drained", "low-fat milk", "whole wheat flour", "harbor roll", "rested dough",
    "starter dough", "apricot ricotta cup", "ricotta cup in milk", "clear cup 12", "sea biscuit", "baking powder",
)  # fmt: skip

Files = dict[str, list[str]]


def pieces(text: str) -> list[str]:
    return [one.text for one in split(text)]


@st.composite
def libraries(draw: st.DrawFn) -> Files:
    """The clean library and some more, spread over files in any order."""
    more = draw(st.lists(st.sampled_from(MORE), max_size=5))
    every = draw(st.permutations([*declarations().values(), *more]))
    files: Files = {path: [] for path in PATHS}
    for text in every:
        files[draw(st.sampled_from(PATHS))].append(text)
    return files


def texts(files: Files) -> dict[str, str]:
    return {path: "".join(many) for path, many in files.items()}


@st.composite
def edited(draw: st.DrawFn, files: Files) -> Files:
    """The files after one edit; a path that is gone has been removed."""
    files = {path: list(many) for path, many in files.items()}
    kind = draw(st.sampled_from(("insert", "delete", "move", "slip", "line", "name", "file", "space")))
    path = draw(st.sampled_from(PATHS))
    if kind == "file":
        if path in files:
            del files[path]
        else:
            files[path] = [draw(st.sampled_from((CLEAN, *MORE)))]
        return files
    many = files.setdefault(path, [])
    if kind == "move" and many:
        at = draw(st.integers(0, len(many) - 1))
        target = files.setdefault(draw(st.sampled_from(PATHS)), [])
        target.insert(draw(st.integers(0, len(target))), many.pop(at))
    else:
        draw(_edited_in(many, kind))
    return files


@st.composite
def edited_text(draw: st.DrawFn, text: str) -> str:
    """One file's text after one edit of it."""
    many = pieces(text)
    draw(_edited_in(many, draw(st.sampled_from(("insert", "delete", "slip", "line", "name", "space")))))
    return "".join(many)


@st.composite
def _edited_in(draw: st.DrawFn, many: list[str], kind: str) -> None:
    """Makes one edit of a kind in the declarations of a file."""
    if kind == "insert" or not many:
        text = draw(st.sampled_from((*declarations().values(), *MORE)))
        many.insert(draw(st.integers(0, len(many))), text)
        return
    at = draw(st.integers(0, len(many) - 1))
    if kind == "delete":
        del many[at]
    elif kind == "slip":
        many[at] = draw(_slipped(many[at]))
    elif kind == "line":
        many[at] = draw(_with_a_line_changed(many[at]))
    elif kind == "name":
        many[at] = draw(_with_a_name_changed(many[at]))
    else:
        many.insert(at, draw(st.sampled_from(("\n", "\n\n", "// said\n", "// allow syntax: so\n"))))


def _slipped(text: str) -> st.SearchStrategy[str]:
    """A slip planted, or fixed again."""
    there = [slip for slip in SLIPS if text.count(slip.old) == 1]
    back = [slip for slip in SLIPS if slip.new and text.count(slip.new) == 1]
    found = [text.replace(slip.old, slip.new) for slip in there] + [text.replace(slip.new, slip.old) for slip in back]
    return st.sampled_from(found) if found else st.just(text)


@st.composite
def _with_a_line_changed(draw: st.DrawFn, text: str) -> str:
    lines = text.splitlines(keepends=True) or ["\n"]
    at = draw(st.integers(0, len(lines) - 1))
    other = draw(st.integers(0, len(lines) - 1))
    how = draw(st.sampled_from(("delete", "double", "swap", "comment", "break")))
    if how == "delete":
        del lines[at]
    elif how == "double":
        lines.insert(other, lines[at])
    elif how == "swap":
        lines[at], lines[other] = lines[other], lines[at]
    elif how == "comment":
        lines[at] = (
            lines[at].rstrip("\n") + draw(st.sampled_from(("  // so", "  // allow claim-too-high: so", "//"))) + "\n"
        )
    else:
        lines[at] = draw(st.sampled_from(("    ((\n", "((\n", "    ingredients\n", "    steps\n"))) + lines[at]
    return "".join(lines)


@st.composite
def _with_a_name_changed(draw: st.DrawFn, text: str) -> str:
    places = list(re.finditer("|".join(map(re.escape, WORDS)), text))
    if not places:
        return text
    place = draw(st.sampled_from(places))
    return text[: place.start()] + draw(st.sampled_from(WORDS)) + text[place.end() :]


def told(workspace: Workspace) -> list[Any]:
    """All that is said of a workspace, in lines and columns."""
    return [
        (
            workspace.range_of(one.place),
            one._replace(place=None, related=(), fixes=()),
            [(workspace.range_of(related.place), related.message) for related in one.related],
            [(fix.title, [(workspace.range_of(edit.place), edit.text) for edit in fix.edits]) for fix in one.fixes],
        )
        for one in workspace.findings()
    ]
