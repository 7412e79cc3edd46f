"""What each word of a line is: as the grammar says, so that colors can't drift from it; and what names mean."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.editing.semantic_tokens import COMMENT, KINDS, UNKNOWN, Color, colors
from recipelang.editing.token_kinds import DIGITS, PLAIN, kind_of
from recipelang.editing.tokens import parsed
from recipelang.server.features.semantic_tokens import difference
from recipelang.syntax.forms import FORMS, TYPED
from recipelang.syntax.keywords import fixed_words
from recipelang.syntax.split import STRAY
from recipelang.syntax.tables import tables
from recipelang.workspace.workspace import Workspace

EXAMPLES = Path(__file__).parents[2] / "examples"


@lru_cache(maxsize=1)
def examples() -> Workspace:
    return Workspace.open([EXAMPLES])


def told(text: str, path: str = "a.recipe", **others: str) -> list[tuple[str, str]]:
    """Each colored stretch of a text with what it is."""
    workspace = Workspace.of({path: text, **{f"{name}.recipe": other for name, other in others.items()}})
    return [(text[one.start : one.end], " ".join((one.kind, *one.modifiers))) for one in colors(workspace, path)]


def in_line(line: str, kind: str = "recipe", **others: str) -> list[tuple[str, str]]:
    """What stands in one line of a declaration."""
    return told(f"{kind} xyz\n    {line}\n", **others)[2:]


# ---- with the grammar ------------------------------------------------------------------------------------------------


def test_every_terminal_of_the_grammar_is_something() -> None:
    for terminal in tables().patterns:
        if not terminal.startswith(("_NL", "__IGNORE")):
            assert kind_of(terminal) in {*KINDS, "", PLAIN}
    with pytest.raises(KeyError):
        kind_of("NO_TERMINAL")


@pytest.mark.parametrize(("kind", "words"), [(kind, words) for kind, forms in FORMS.items() for words in forms])
def test_every_line_form_begins_with_its_keyword(kind: str, words: str) -> None:
    found = in_line(FORMS[kind][words], kind)
    begins, shade = found[0]
    assert words.startswith(begins.casefold())
    first = words.partition(" ")[0]
    if words == "or":
        assert shade == "operator"
    elif any(form.partition(" ")[0] == first for form in TYPED):
        assert shade == ("function critical" if words == "ccp" else "function")
    else:
        assert shade == "keyword"


def test_nothing_that_the_grammar_reads_is_left_out() -> None:
    """Every token of the published recipes and foods is colored, or prose."""
    workspace = examples()
    for path, file in workspace.files.items():
        covered = {at for one in colors(workspace, path) for at in range(one.start, one.end)}
        for one in file.declarations:
            if one.kind == STRAY:
                continue
            for token in parsed(one).tokens:
                if token.type not in fixed_words() and kind_of(token.type) == PLAIN:
                    continue
                words = [at for at in range(token.start_pos, token.end_pos) if one.text[at].isalnum()]
                assert all(one.start + at in covered for at in words), (path, token)


def test_names_that_are_unknown_are_those_of_the_findings() -> None:
    texts = {path: file.text for path, file in examples().files.items()}
    shown_in = set()
    for path in sorted((EXAMPLES / "broken").glob("*.recipe")):
        workspace = Workspace.of({**texts, path.name: path.read_text(encoding="utf-8")})
        file = workspace.files[path.name]
        told_of = set()
        for finding in workspace.file_findings(path.name):
            if finding.rule == "unknown-name":
                start = file.by_home[finding.place.home].start
                told_of.add(file.text[start + finding.place.start : start + finding.place.end])
        unknown = (one for one in colors(workspace, path.name) if UNKNOWN in one.modifiers)
        shown = {file.text[one.start : one.end] for one in unknown}
        assert told_of <= shown
        shown_in |= {path.stem} if shown else set()
    # of `breast slice` it is said that its unit is the slip; the name is one that nothing has all the same
    assert shown_in == {"unknown-name", "unknown-unit-each"}
    assert not any(UNKNOWN in one.modifiers for path in texts for one in colors(examples(), path))


# ---- words -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("6 lb 4 oz     sun butter", ["6 number", "lb type", "4 number", "oz type"]),
        ("#10 can       sun butter", ["#10 number", "can type"]),
        ("2½ cups = 1 lb sun butter", ["2½ number", "cups type", "= operator", "1 number", "lb type"]),
        ("-  sun butter", ["- operator"]),
        ("makes 50 portions of 3/4 cup", ["makes keyword", "50 number", "portions operator", "of operator",
                                          "3/4 number", "cup type"]),
        ("course entree", ["course keyword", "entree enumMember"]),
        ("number B-12", ["number keyword", "B-12 string"]),
        ("pans 2 sheet pans 18 x 26 in", ["pans keyword", "2 number", "sheet type", "pans string", "18 number",
                                         "x string", "26 number", "in string"]),
        ("ccp chill from 135 F to 70°F within 2 h", [
            "ccp function critical", "chill from function critical", "135 number", "F type", "to operator", "70 number",
            "°F type", "within operator", "2 number", "h type"]),
        ("cook at 250 to 300 F for 16 min to 18 min", [
            "cook function", "at operator", "250 number", "to operator", "300 number", "F type", "for operator",
            "16 number", "min type", "to operator", "18 number", "min type"]),
        ("or freeze for 2 h // à ½", ["or operator", "freeze function", "for operator", "2 number", "h type",
                                     "// à ½ comment"]),
    ],
)  # fmt: skip
def test_the_words_of_a_line(line: str, expected: list[str]) -> None:
    assert [f"{said} {kind}" for said, kind in in_line(line) if said != "sun butter"] == expected


def test_the_words_of_a_broken_line_as_far_as_they_can_be_told() -> None:
    assert in_line("makes 50 portoins of 3/4 cup") == [
        ("makes", "keyword"), ("50", "number"), ("3/4", "number"), ("cup", "type"),
    ]  # fmt: skip
    assert in_line('mkaes 50 "a 1" // 2') == [("50", "number"), ('"a 1"', "string"), ("// 2", "comment")]
    assert in_line("use chili instead 2 cups", "variation")[0] == ("use", "keyword")


def test_a_change_reads_as_the_recipes_line() -> None:
    assert in_line("change credits 1/4 cup fruit", "variation") == [
        ("change", "keyword"), ("credits", "keyword"), ("1/4", "number"), ("cup", "type"), ("fruit", "enumMember"),
    ]  # fmt: skip
    assert in_line("change kraits 1/4 cup", "variation") == [("change", "keyword"), ("1/4", "number"), ("cup", "type")]


def test_what_a_comment_allows_stands_out() -> None:
    text = "// head ½\n\nfood a  // allow missing-price: none yet\n    liquid // allow\n"
    assert told(text) == [
        ("// head ½", "comment"), ("food", "keyword"), ("a", "variable declaration"), ("// ", "comment"),
        ("allow missing-price", "decorator"), (": none yet", "comment"), ("liquid", "keyword"), ("// allow", "comment"),
    ]  # fmt: skip


# ---- names -----------------------------------------------------------------------------------------------------------


def test_names_are_shown_by_what_they_mean() -> None:
    text = (
        "recipe chili\n    in tray\n    ingredients\n        2 cups sauce, called base, on the side in tub\n"
        "        1 tsp salt\n        1 cup plain cup\n        1 cup nothing\n"
        "    steps\n        - Stir [rest of base] into [1 cup nothing] and [sauce].\n"
        "variation late chili\n    based on chili\n    after step 1 - Add [base].\n"
    )
    others = "food sauce\ncontainer tray\nrecipe plain cup\n"
    assert [one for one in told(text, others=others) if one[1].split()[0] in ("variable", "class", "struct", "parameter")] == [
        ("chili", "class declaration"), ("tray", "struct"), ("sauce", "variable"), ("base", "parameter declaration"),
        ("tub", "struct unknown"), ("salt", "variable defaultLibrary"), ("plain cup", "class"),
        ("nothing", "variable unknown"), ("base", "parameter"), ("nothing", "variable unknown"), ("sauce", "variable"),
        ("late chili", "class declaration"), ("chili", "class"), ("base", "parameter"),
    ]  # fmt: skip


def test_what_a_line_may_yet_come_to_name_is_not_called_unknown() -> None:
    assert ("chili", "variable") in in_line("use chili instead of", "variation")
    assert ("chili", "variable unknown") in in_line("use chili instead of beans", "variation")


# ---- whatever the text -----------------------------------------------------------------------------------------------


def test_colors_of_comments_and_numbers_survive_everything_around_them() -> None:
    for text in ("// a\n", "2 cups\n// a\n", "recipe x\n    ? 2 cups // a\n"):
        workspace = Workspace.of({"a.recipe": text})
        kinds = [one.kind for one in colors(workspace, "a.recipe")]
        assert COMMENT in kinds
        assert (DIGITS in kinds) == text.startswith("recipe")


_TOKENS = st.lists(st.lists(st.integers(0, 1), min_size=5, max_size=5), max_size=8).map(
    lambda some: [number for one in some for number in one]
)


@given(_TOKENS, _TOKENS)
def test_a_difference_makes_one_list_the_other(before: list[int], after: list[int]) -> None:
    edits = difference(before, after)
    made = list(before)
    for one in edits:
        assert one.start % 5 == one.delete_count % 5 == 0
        made[one.start : one.start + one.delete_count] = one.data or ()
    assert made == after
    assert bool(edits) == (before != after)


def test_a_color_is_a_place_and_a_kind() -> None:
    workspace = Workspace.of({"a.recipe": "food ½ x\n"})
    assert colors(workspace, "a.recipe") == [Color(0, 4, "keyword"), Color(5, 8, "variable", ("declaration",))]
