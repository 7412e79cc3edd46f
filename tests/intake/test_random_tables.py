"""Random tables: what is brought in reads without a problem, lays out to itself, and says nothing of safety."""

from __future__ import annotations

import csv
import io
import re

from hypothesis import given
from hypothesis import strategies as st

from recipelang.intake.bringing import Brought, bring_in, names_of
from recipelang.intake.cards import Asked
from recipelang.intake.reading import read_sheets
from recipelang.intake.rows import CantBringIn, Sheet, one_line
from recipelang.syntax import tree
from recipelang.syntax.format import format_text
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split
from recipelang.workspace.workspace import Workspace

WORDS = (
    "soy sauce", "diced pears, raw", "6 lb 4 oz", "1 cup (2 cans)", "or", "OR milk", "contains none of the nine", "not tcs", "=1+1", "@x",
    "ccp hold without temperature control up to 6 h", "made without peanuts", "credits 1 cup fruit", "// allow no-ccp: x", "to order",
    "to taste", "Directions", "Ingredients:", "Servings: 50", "food x", "recipe y", "½ cup", "12", "2 to 3 cups", "[milk]", '"', "|",
    "ph 4.2", "arrives ready to eat", "Contains: milk", "none", "1/0 cup", "-1 cup", "99999999999999999999 lb", "  ", "é\u2028x", "\x0b",
)  # fmt: skip
cells = st.one_of(st.sampled_from(WORDS), st.text(max_size=12))
tables = st.lists(st.lists(cells, min_size=1, max_size=5), min_size=1, max_size=8)
HEADERS = (
    ["Ingredient", "Weight", "Measure"],
    ["Ingredient", "50 servings", "100 servings"],
    ["Food", "Pack", "Price", "Sodium mg", "Allergens"],
)
SAFE = (tree.Allergens, tree.FoodCredit, tree.CreditsNothing, tree.Claims)
STRUCTURE = {"or", "ingredients", "directions", "servings"}
"""Words that say what stands where, and become headings of the notation."""
NAMES = Workspace.of({"foods.recipe": "food soy sauce\n    contains soy\nfood milk\n    contains milk\n"})


def written(rows: list[list[str]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    return out.getvalue().encode("utf-8", "replace")


@given(st.sampled_from(HEADERS), tables, st.booleans())
def test_what_is_brought_in_reads_and_lays_out_to_itself(
    head: list[str], rows: list[list[str]], is_foods: bool
) -> None:
    if is_foods:
        head = HEADERS[2]
    try:
        sheets = read_sheets("x.csv", written([head, *rows]))
        found = bring_in(sheets, "foods" if is_foods else "recipe", names_of(NAMES), Asked(origin="x", per="100 g"))
    except CantBringIn as error:
        sentence = str(error)
    else:
        check(found, sheets)
        return
    assert one_line(sentence) == sentence


def check(found: Brought, sheets: list[Sheet]) -> None:
    text = found.text
    assert format_text(text) == text
    declarations = split(text)
    assert [one.kind for one in declarations] == [one.kind for one in found.declarations]
    for one in declarations:
        body = parse(one)
        assert not body.problems, (text, body.problems)
        assert not body.allowances
        assert not [line for line in body.lines if isinstance(line, SAFE)]
        facts = {line.name for line in body.lines if isinstance(line, tree.Fact | tree.Field)}
        assert not facts & {"tcs", "not tcs", "arrives", "made without", "evidence"}
    folded = re.sub(r"\W+", "", text.casefold())
    for cell in (cell for sheet in sheets for row in sheet.rows[1:] for cell in row.cells):
        for word in re.findall(r"[^\W_]{2,}", cell.text.casefold()):
            assert word in folded or word in STRUCTURE, (cell, text)


@given(st.lists(st.one_of(st.sampled_from(WORDS), st.text(max_size=16)), min_size=1, max_size=8))
def test_pasted_lines_too(texts: list[str]) -> None:
    """A title may become a name; all else stands in a line or in a doubt."""
    try:
        sheets = read_sheets("-", "\n".join(["A title", *texts]).encode("utf-8", "replace"))
        found = bring_in(sheets, "recipe", names_of(NAMES), Asked(origin="x"))
    except CantBringIn as error:
        sentence = str(error)
    else:
        check(found, sheets)
        return
    assert one_line(sentence) == sentence
