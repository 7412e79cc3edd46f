"""Pictures: to scale by volume, readable as one sentence, and any text in them is text."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.drawings.cup import cup, height_of
from recipelang.drawings.svg import definitions, escaped
from recipelang.drawings.timeline import timeline


def container(**more: Any) -> dict[str, Any]:
    return {
        "name_text": "clear cup 12", "holds_fl_oz": 12.0, "room_fl_oz": 11.5, "room_text": "11 1/2 fl oz",
        "filled_fl_oz": 6.0, "filled_text": "6 fl oz", "at_least": False, "over": False, "first_layer": 0,
        "layers": [
            {"name_text": "whipped ricotta", "fl_oz": 2.0, "text": "2 fl oz"},
            {"name_text": "canned apricots drained", "fl_oz": 4.0, "text": "4 fl oz"},
        ],
    } | more  # fmt: skip


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_level_stands_where_the_volume_below_it_is_its_share(one: float, other: float) -> None:
    """A frustum's volume up to a height h is h (r0² + r0 r + r²) pi / 3, with r the radius there."""

    def volume(height: float) -> float:
        radius = 0.74 + 0.26 * height
        return height * (0.74**2 + 0.74 * radius + radius**2)

    assert volume(height_of(one)) / volume(1.0) == pytest.approx(one, abs=1e-9)
    assert (height_of(one) <= height_of(other)) == (one <= other) or one == pytest.approx(other)


def test_a_picture_is_read_out_as_one_sentence() -> None:
    picture = ElementTree.fromstring(cup(container()))
    assert picture.get("role") == "img"
    assert picture.get("aria-label") == (
        "clear cup 12, from the bottom: 2 fl oz whipped ricotta, then 4 fl oz canned apricots drained; 6 fl oz, below the "
        "fill line of 11 1/2 fl oz."
    )


def test_what_is_over_the_fill_line_is_said_in_words() -> None:
    assert "OVER THE FILL LINE" in cup(container(over=True))
    assert "over the fill line" in cup(container(over=True))


@pytest.mark.parametrize("number", [1, 3, 4, 9])
def test_labels_of_layers_do_not_stand_on_each_other(number: int) -> None:
    layers = [{"name_text": f"layer {at}", "fl_oz": 0.2, "text": "0.2 fl oz"} for at in range(number)]
    source = cup(container(layers=layers))
    heights = sorted(
        float(y) for y in re.findall(r'<text x="[\d.]+" y="([\d.]+)" font-size="[\d.]+" font-weight', source)
    )
    assert all(after - before >= 9.9 for before, after in pairwise(heights))
    tall = float(ElementTree.fromstring(source).get("height") or 0)
    assert heights[-1] <= tall


@pytest.mark.parametrize("text", ['"><script>x</script>', "a & b", "\x00\x1b", "'", "\ud800"])
def test_any_text_is_text(text: str) -> None:
    for source in (
        cup(container(name_text=text, layers=[{"name_text": text, "fl_oz": 1.0, "text": text}])),
        timeline([{"head_text": text, "time_text": text, "zone": "hot", "ccp": 1}], text, text),
    ):
        picture = ElementTree.fromstring(source)
        assert "script" not in {element.tag.rpartition("}")[2] for element in picture.iter()}
    assert escaped("a\ud800b") == "ab"


def test_a_timeline_tells_every_line_in_order() -> None:
    slots = [
        {"head_text": "Cook to", "time_text": "15 s", "zone": "hot", "ccp": 1},
        {"head_text": "Rest", "time_text": "time not stated", "zone": "none", "ccp": 0},
    ]
    picture = ElementTree.fromstring(timeline(slots, "135 °F", "41 °F"))
    assert picture.get("aria-label") == "In order: CCP 1: Cook to, 15 s; Rest, time not stated."


def test_a_page_s_patterns_are_all_there() -> None:
    names = set(re.findall(r'id="([\w-]+)"', definitions()))
    used = set(re.findall(r"url\(#([\w-]+)\)", cup(container(first_layer=1))))
    assert used <= names
