"""Outlines, folds, selections, colors and hierarchies of any text hold together, however broken it is."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from recipelang.editing.call_hierarchy import goes_into, made_from, thing, thing_at
from recipelang.editing.document_symbols import Part, around, folds, outline
from recipelang.editing.semantic_tokens import KINDS, MODIFIERS, colors
from recipelang.model.names import PANTRY
from recipelang.workspace.workspace import Workspace
from tests.server.readers import CUPS, SHELF

PATH, OTHER = "a.recipe", "shelf.recipe"
_SCRAPS = st.sampled_from(
    ["\n", "\n    ", " ", "//", "[", "]", '"', ",", "½", "🍑", "2 cups ", "#10 can ", "recipe ", "food ", "variation ",
     "menu ", "ingredients", "steps", "- ", "ccp ", "called ", "based on ", "change ", "serve ", "choose 1", "end", "x",
     "per ", "// allow missing-price: y", "\u00a0", "\u2028", "\x0c", "credits 1 oz eq grain", "instead of ", "step 1 ",
     "apricot crème cup", "\nrecipe apricot crème cup\n    ingredients\n        2 cups plain crème cup"]
)  # fmt: skip
TEXTS = st.one_of(
    st.lists(_SCRAPS, max_size=40).map("".join),
    st.tuples(st.sampled_from([CUPS, CUPS + SHELF]), st.integers(0, 1900), st.integers(0, 40), _SCRAPS).map(
        lambda one: one[0][: one[1]] + one[3] + one[0][one[1] + one[2] :]
    ),
)


def _all(parts: tuple[Part, ...]) -> Iterator[Part]:
    for part in parts:
        yield part
        yield from _all(part.parts)


@given(TEXTS, st.integers(0, 900), st.integers(0, 300))
def test_colors_lie_apart_and_in_their_lines(text: str, start: int, length: int) -> None:
    workspace = Workspace.of({PATH: text})
    found = colors(workspace, PATH)
    at = 0
    for one in found:
        assert at <= one.start < one.end <= len(text)
        assert "\n" not in text[one.start : one.end]
        assert one.kind in KINDS
        assert {*one.modifiers} <= {*MODIFIERS}
        at = one.end
    part = colors(workspace, PATH, start, start + length)
    assert part == [one for one in found if one.start < start + length and one.end > start]


@given(TEXTS)
def test_parts_hold_their_names_and_their_parts(text: str) -> None:
    workspace = Workspace.of({PATH: text})
    for part in _all(tuple(outline(workspace, PATH))):
        assert part.name.strip()
        assert 0 <= part.start <= part.name_start <= part.name_end <= part.end <= len(text)
        assert all(part.start <= inner.start and inner.end <= part.end for inner in part.parts)


@given(TEXTS)
def test_folds_lie_in_one_another_or_apart(text: str) -> None:
    workspace = Workspace.of({PATH: text})
    last = text.count("\n")
    found = folds(workspace, PATH)
    for one in found:
        assert 0 <= one.first < one.last <= last
    code = [one for one in found if not one.is_comment]
    for one in code:
        assert all(other.first > one.last or other.last <= one.last for other in code if other.first > one.first)


@given(TEXTS, st.integers(0, 2000))
def test_selections_grow_to_the_whole_text(text: str, at: int) -> None:
    at = min(at, len(text))
    found = around(Workspace.of({PATH: text}), PATH, at)
    assert found[-1] == (0, len(text))
    for (start, end), (outer, after) in pairwise(found):
        assert outer <= start <= at <= end <= after
        assert (outer, after) != (start, end)


@given(TEXTS, st.integers(0, 2000))
def test_what_is_made_from_something_is_what_it_goes_into(text: str, at: int) -> None:
    workspace = Workspace.of({PATH: text, OTHER: SHELF})
    named = thing_at(workspace, PATH, min(at, len(text)))
    assert named is None or thing(workspace, named.ref) == named
    refs = {workspace.ref_at(home) for file in workspace.files.values() for home in file.by_home}
    for ref in refs - {None}:
        assert ref is not None
        maker = thing(workspace, ref)
        for link in made_from(workspace, maker) if maker is not None else ():
            assert maker is not None
            body = workspace.files[maker.home.path].text
            assert all(0 <= start < end <= len(body) for start, end in link.spans)
            back = [one.spans for one in goes_into(workspace, link.thing.ref) if one.thing == maker]
            assert back == [link.spans]
            assert link.thing.ref != ref
            assert link.thing.is_built_in == link.thing.ref.startswith(PANTRY)
