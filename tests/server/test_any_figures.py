"""Figures, whole texts and links of any text hold together, however broken it is."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from recipelang.editing.code_lens import lens_text, lenses_in
from recipelang.editing.document_links import links_in
from recipelang.editing.figure_texts import card_text
from recipelang.editing.inlay_hints import hint_card, hints_in
from recipelang.workspace.workspace import Workspace
from tests.server.readers import SHELF
from tests.server.test_any_text import OTHER, PATH, TEXTS


@given(TEXTS, st.integers(0, 900), st.integers(0, 300))
def test_hints_stand_at_the_ends_of_what_they_are_of(text: str, start: int, length: int) -> None:
    workspace = Workspace.of({PATH: text, OTHER: SHELF})
    found = hints_in(workspace, PATH, 0, len(text))
    assert found == sorted(found)
    for hint in found:
        assert hint.label
        assert text[hint.at - 1].strip()
        assert not hint.is_ingredient or hint_card(workspace, PATH, hint.at) is not None
    part = hints_in(workspace, PATH, start, start + length)
    assert part == [hint for hint in found if start <= hint.at <= start + length]


@given(TEXTS)
def test_every_figure_says_something_above_the_name_it_is_of(text: str) -> None:
    workspace = Workspace.of({PATH: text, OTHER: SHELF})
    for lens in lenses_in(workspace, PATH):
        assert text[lens.start : lens.end].strip()
        assert lens_text(workspace, lens.ref, lens.figure)
        assert lens_text(workspace, "🍑 gone", lens.figure) == ""
        if lens.figure in ("credits", "needs"):
            assert card_text(workspace, lens.ref).endswith("\n")


@given(TEXTS)
def test_links_lie_inside_of_lines(text: str) -> None:
    workspace = Workspace.of({PATH: text})
    for link in links_in(workspace.files[PATH], Path(".")):
        said = text[link.start : link.end]
        assert said.strip()
        assert "\n" not in said
        assert link.address or link.path is not None
