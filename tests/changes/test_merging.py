"""Merging by declaration: what one side changed is that side's, and a conflict stays where it is."""

from __future__ import annotations

import random
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.syntax.split import STRAY, split
from recipelang.versions.merging import Merged, merge
from recipelang.workspace.git import merged_lines
from tests.changes.conftest import FOODS

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def merged(older: str, ours: str, theirs: str) -> Merged:
    return merge(older, ours, theirs, merged_lines)


def without_git(ours: str, older: str, theirs: str) -> tuple[str, bool]:
    """Stands for a merge of lines where there is nothing to merge."""
    raise AssertionError("nothing was to be merged line by line")


def food(name: str, *lines: str) -> str:
    return "\n".join([f"food {name}", *(f"    {line}" for line in lines)]) + "\n"


A, B, C = food("apricots", "price 1 per lb"), food("barley", "price 2 per lb"), food("carrots", "price 3 per lb")
NEW, NEWER = food("dates", "price 4 per lb"), food("eggs", "price 5 per lb")
BASE = f"// Foods.\n\n{A}\n{B}\n{C}"


def test_both_sides_add_a_food_at_the_end() -> None:
    """The usual case, and a conflict by lines."""
    found = merge(BASE, f"{BASE}\n{NEW}", f"{BASE}\n{NEWER}", without_git)
    assert found == Merged(f"{BASE}\n{NEW}\n{NEWER}", ())


def test_neighbors_are_changed_apart() -> None:
    ours, theirs = BASE.replace("2 per lb", "2.50 per lb"), BASE.replace("3 per lb", "3.50 per lb")
    assert merge(BASE, ours, theirs, without_git) == Merged(ours.replace("3 per lb", "3.50 per lb"), ())


def test_one_side_takes_away_what_the_other_left_alone() -> None:
    ours = BASE.replace(f"{B}\n", "")
    assert merge(BASE, ours, BASE.replace("3 per lb", "3.50 per lb"), without_git).text == ours.replace(
        "3 per", "3.50 per"
    )


def test_one_side_moves_what_the_other_changes() -> None:
    ours = f"// Foods.\n\n{C}\n{A}\n{B}"
    theirs = BASE.replace("1 per lb", "1.50 per lb")
    assert merge(BASE, ours, theirs, without_git) == Merged(ours.replace("1 per lb", "1.50 per lb"), ())


def test_lines_of_one_declaration_are_merged() -> None:
    older = food("ricotta", "price 40 per case", "pack 4 tubs of 5 lb", "label read 2026-08-01", "contains milk", "tcs")
    ours, theirs = older.replace("40 per", "42 per"), older.replace("contains milk", "contains milk, soy")
    assert merged(older, ours, theirs) == Merged(ours.replace("contains milk", "contains milk, soy"), ())


def test_a_conflict_stays_inside_its_declaration() -> None:
    found = merged(BASE, BASE.replace("2 per lb", "2.50 per lb"), BASE.replace("2 per lb", "2.80 per lb") + f"\n{NEW}")
    assert found.conflicts == ("food barley",)
    assert found.text.count("<<<<<<<") == found.text.count(">>>>>>>") == 1
    names = [one.name for one in split(found.text) if one.kind != STRAY]
    assert names == ["apricots", "barley", "carrots", "dates"]
    assert "food barley\n<<<<<<< ours\n    price 2.50 per lb\n" in found.text


def test_taken_away_on_one_side_and_changed_on_the_other_is_a_conflict() -> None:
    found = merged(BASE, BASE.replace(f"{B}\n", ""), BASE.replace("2 per lb", "2.80 per lb"))
    assert found.conflicts == ("food barley",)
    assert "price 2.80 per lb" in found.text


def test_the_same_name_added_twice_is_a_conflict_below_its_header() -> None:
    found = merged(BASE, f"{BASE}\n{NEW}", f"{BASE}\n{NEW.replace('4 per', '4.40 per')}")
    assert found.conflicts == ("food dates",)
    assert "food dates\n<<<<<<< ours\n" in found.text


def test_a_rename_meets_a_change() -> None:
    older = food("ricotta", "price 40 per case", "pack 4 tubs of 5 lb", "label read 2026-08-01", "contains milk", "tcs")
    ours, theirs = (
        older.replace("food ricotta", "food soft ricotta"),
        older.replace("contains milk", "contains milk, soy"),
    )
    assert merged(older, ours, theirs) == Merged(ours.replace("contains milk", "contains milk, soy"), ())
    assert merged(older, theirs, ours).text == ours.replace("contains milk", "contains milk, soy")


def test_line_ends_are_those_of_ours() -> None:
    ours = BASE.replace("\n", "\r\n").replace("2 per lb", "2.50 per lb")
    found = merge(BASE, ours, BASE.replace("3 per lb", "3.50 per lb"), without_git)
    assert found.text == ours.replace("3 per lb", "3.50 per lb")


def test_remarks_above_and_between_stay() -> None:
    older = f"// Foods.\n\n// Bought in spring.\n{A}\n{B}"
    ours = older.replace("// Foods.", "// Foods of the year.")
    theirs = older.replace("// Bought in spring.", "// Bought in fall.")
    assert merge(older, ours, theirs, without_git).text == ours.replace("spring", "fall")


# ---- properties ------------------------------------------------------------------------------------------------------

DECLARED = [
    A,
    B,
    C,
    NEW,
    NEWER,
    food("figs"),
    "// A remark.\nfood grapes\n    price 6 per lb\n",
    "foood zork\n    price 7\n",
]
TEXTS = st.lists(st.sampled_from(DECLARED), max_size=6, unique=True).flatmap(
    lambda parts: st.sampled_from(["\n", "", "\n\n"]).map(lambda gap: gap.join(parts))
)


@given(TEXTS, TEXTS)
def test_one_side_alone_is_that_side(older: str, side: str) -> None:
    for ours, theirs in ((side, older), (older, side), (side, side)):
        assert merge(older, ours, theirs, without_git) == Merged(side, ())


CHANGES = st.lists(
    st.tuples(st.sampled_from(["keep", "ours", "theirs", "cut by ours", "cut by theirs"])), min_size=5, max_size=5
)


@given(CHANGES)
def test_every_declaration_changed_by_one_side_only_is_that_sides(changes: list[tuple[str]]) -> None:
    parts = DECLARED[:5]
    older = "\n".join(parts)
    ours, theirs, both = list(parts), list(parts), list(parts)
    for number, (change,) in enumerate(changes):
        new = parts[number].replace("per lb", f"per case // {number}")
        if change == "ours":
            ours[number] = both[number] = new
        elif change == "theirs":
            theirs[number] = both[number] = new
        elif change == "cut by ours":
            ours[number] = both[number] = ""
        elif change == "cut by theirs":
            theirs[number] = both[number] = ""
    texts = ["\n".join(filter(None, side)) for side in (ours, theirs, both)]
    assert merge(older, texts[0], texts[1], without_git) == Merged(texts[2], ())


def edited(rng: random.Random, text: str) -> str:
    """An example file after a few edits of the kinds that a kitchen makes."""
    declared = [text[one.start : one.start + len(one.text)] for one in split(text)]
    for _ in range(rng.randint(1, 3)):
        at = rng.randrange(len(declared))
        match rng.randrange(4):
            case 0:
                lines = declared[at].split("\n")
                number = rng.randrange(1, max(2, len(lines) - 1))
                if number < len(lines):
                    lines[number] += f" // {rng.randint(0, 99)}"
                declared[at] = "\n".join(lines)
            case 1:
                declared.append(f"\nfood new {rng.randint(0, 10**6)}\n    price 1.00 per lb\n")
            case 2:
                declared.insert(rng.randrange(len(declared)), declared.pop(at))
            case 3 if len(declared) > 2:
                del declared[at]
    return "".join(one if one.endswith("\n") else one + "\n" for one in declared)


def test_fewer_conflicts_than_by_lines_and_no_change_lost() -> None:
    """Random merges of the example files beside git's own: far fewer conflicts, and never a clean merge that lost one of
    the remarks, names or removals of either side."""
    rng = random.Random(9)
    by_lines = by_declaration = 0
    for path in sorted((EXAMPLES / "foods").glob("*.recipe")) * 6:
        older = path.read_text(encoding="utf-8")
        ours, theirs = edited(rng, older), edited(rng, older)
        _, is_clean = merged_lines(ours, older, theirs)
        found = merged(older, ours, theirs)
        by_lines += not is_clean
        by_declaration += bool(found.conflicts)
        if found.conflicts:
            continue
        base = {(one.kind, one.key): one.text.rstrip() for one in split(older)}
        mine, yours = ({(one.kind, one.key): one.text.rstrip() for one in split(side)} for side in (ours, theirs))
        made = {(one.kind, one.key): one.text.rstrip() for one in split(found.text)}
        for key in base.keys() | mine.keys() | yours.keys():
            if mine.get(key) == base.get(key):
                assert made.get(key) == yours.get(key), (path.name, key)
            elif yours.get(key) == base.get(key):
                assert made.get(key) == mine.get(key), (path.name, key)
    assert by_declaration * 3 <= by_lines


def test_it_needs_no_repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert merged(FOODS, FOODS.replace("40.00", "41.00"), FOODS.replace("40.00", "42.00")).conflicts
    assert subprocess.run(["git", "rev-parse"], capture_output=True, check=False, cwd=tmp_path).returncode != 0
