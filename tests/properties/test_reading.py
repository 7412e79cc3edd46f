"""Any text is read: to an end, without an exception, with at most one problem for a line."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from recipelang import Workspace
from recipelang.pantry import pantry_folder
from recipelang.syntax.parser import parse
from recipelang.syntax.print import print_declaration
from recipelang.syntax.split import STRAY, split
from recipelang.syntax.tree import Body
from tests.properties.generators import declarations

ROOT = Path(__file__).parents[2]
REAL = [
    one.text
    for folder in (ROOT / "examples", pantry_folder())
    for path in sorted(folder.rglob("*.recipe"))
    for one in split(path.read_text(encoding="utf-8"))
]
_PIECES = (
    "food ", "recipe ", "menu ", "\n", "\n    ", "\n        ", "\t", "    ", "ingredients", "steps", "- ", "[", "]", "//",
    '"', "1/2 cup ", "6 lb 4 oz ", "½", "80/20", " = ", " | ", ", ", "; ", "ccp ", "or ", "per portion", "0", "-", "#10 can",
    "credits ", "weighs ", "makes 10 portions of ", "\r", "\x00", "\u2028", "\u00a0", "\ufeff", "’", "é", "米", "𝟙", "٣",
    "²", "e\u0301", "\u202e", "\U0001f958", "\ud800", "Ⅻ", "ß", "İ", "// allow syntax: so", "((", "\f", "\v", "\x85",
)  # fmt: skip
texts = st.text() | st.lists(st.sampled_from(_PIECES), max_size=40).map("".join)


def is_read(text: str) -> None:
    """Every declaration's problems lie in it, in order, no two on one line; and its rules can be asked."""
    at = 0
    for one in split(text):
        assert text[one.start : one.start + len(one.text)] == one.text
        assert one.start >= at
        at = one.start + len(one.text)
        body = parse(one)
        assert all(0 <= problem.start <= problem.end <= len(one.text) for problem in body.problems)
        lines = [one.text.count("\n", 0, problem.start) for problem in body.problems]
        assert lines == sorted(set(lines)), body.problems
    assert all(one.message and one.rule for one in Workspace.of({"a.recipe": text}).findings())


@given(texts)
def test_any_text_is_read(text: str) -> None:
    is_read(text)


@given(texts, texts)
def test_any_text_is_read_inside_a_recipe(name: str, text: str) -> None:
    is_read(f"recipe {name}\n    ingredients\n        1 cup {text}")


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """Two declarations of ours side by side, cut, doubled and spoiled in a few places."""
    text = draw(st.sampled_from(REAL)) + draw(st.sampled_from(REAL))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 30)))
        text = text[:start] + draw(texts | st.just(text[start:end] * 2)) + text[end:]
    return text


@given(mutated())
def test_a_spoilt_file_is_read(text: str) -> None:
    is_read(text)


@given(mutated())
def test_what_could_be_read_of_a_spoilt_file_survives_printing(text: str) -> None:
    from recipelang.syntax.print import without_places

    for one in split(text):
        if one.kind == STRAY or not one.name or "\n" in one.name:
            continue
        body = parse(one)
        printed = print_declaration(one.kind, one.name, body)
        found = [parse(again) for again in split(printed)]
        assert len(found) == 1, printed
        assert without_places(found[0].lines) == without_places(body.lines), printed


@given(declarations(), st.data())
def test_each_broken_line_has_one_problem(declaration: tuple[str, str, Body], data: st.DataObject) -> None:
    """Whole lines that can't be read, put between the lines of a declaration, have one problem each and take no other
    line with them but those that belong to them."""
    kind, name, body = declaration
    lines = print_declaration(kind, name, body).splitlines()
    spoilt = lines[:1]
    broken: list[int] = []
    for line in lines[1:]:
        if data.draw(st.booleans()):
            broken.append(len(spoilt))
            spoilt.append(
                data.draw(st.sampled_from(["    ((", "        %% 3 %%", "    {x}", "    = = =", "  ] 1 cup"]))
            )
        spoilt.append(line)
    text = "\n".join(spoilt) + "\n"
    (read,) = split(text)
    assert [text.count("\n", 0, problem.start) for problem in parse(read).problems] == broken
