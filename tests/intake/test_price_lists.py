"""Price lists: the words of `price` lines and nothing else, by exact names, and everything that is not sure left alone."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from recipelang.intake.price_lists import PricedThings, price_changes
from recipelang.intake.reading import read_sheets
from recipelang.syntax import tree
from recipelang.syntax.parser import parse
from recipelang.syntax.split import split
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import decimal_text, read_number
from tests.commands.conftest import Command

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def priced(library: Path) -> list[tuple[str, str, str, str]]:
    """Every food's name, pack, price and what that is per, read from the text of its lines."""
    found = []
    for path in sorted(library.rglob("*.recipe")):
        if "broken" in path.parts:
            continue
        for one in split(path.read_text(encoding="utf-8")):
            lines = parse(one).lines
            prices = [line for line in lines if isinstance(line, tree.Price)]
            packs = [line for line in lines if isinstance(line, tree.Pack)]
            pack = " of ".join(word.text for word in packs[0].amounts) if packs else ""
            for price in prices:
                number, _, unit = price.price.text.partition(" ")
                found.append((one.name, pack, number, f"per {price.per.text}" if price.per else unit))
    return found


def as_list(rows: list[tuple[str, str, str, str]], factor: Fraction) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(["Item", "Pack", "Price"])
    for name, pack, number, per in rows:
        writer.writerow([name.upper(), pack, f"${decimal_text(read_number(number) * factor, 4)} {per}"])
    return out.getvalue()


def test_prices_in_prices_out_gives_the_list_back(
    tmp_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All prices of the example library: every changed line is a `price` line, comments and all else stay."""
    library = tmp_path / "library"
    shutil.copytree(EXAMPLES, library)
    monkeypatch.chdir(library)
    before = {path: path.read_text(encoding="utf-8").split("\n") for path in sorted(library.rglob("*.recipe"))}
    rows = priced(library)
    assert len(rows) > 110
    (tmp_path / "list.csv").write_text(as_list(rows, Fraction(11, 10)), encoding="utf-8")
    shown = command("bring-in", "--as", "prices", "../list.csv", "--check")
    assert shown.code == 1
    assert {path: path.read_text(encoding="utf-8").split("\n") for path in before} == before, "shown, not done"
    done = command("bring-in", "--as", "prices", "../list.csv", "--write")
    assert (done.code, done.out) == (0, "")
    assert done.err.endswith(f"{len(rows)} words changed, 0 prices as before, 0 left alone\n")
    for path, lines in before.items():
        after = path.read_text(encoding="utf-8").split("\n")
        assert len(after) == len(lines)
        for old, new in zip(lines, after, strict=True):
            assert old == new or (old.split()[0] == new.split()[0] == "price" and old.split()[2:] == new.split()[2:])
    assert [(name, pack, read_number(number), per) for name, pack, number, per in priced(library)] == [
        (name, pack, read_number(decimal_text(read_number(number) * Fraction(11, 10), 4)), per)
        for name, pack, number, per in rows
    ]
    (tmp_path / "back.csv").write_text(as_list(rows, Fraction(1)), encoding="utf-8")
    command("bring-in", "--as", "prices", "../back.csv", "--write")
    assert [(one[0], read_number(one[2])) for one in priced(library)] == [(one[0], read_number(one[2])) for one in rows]
    assert command("bring-in", "--as", "prices", "../back.csv", "--check").code == 0


FOODS = """food whipped ricotta
    pack          4 tubs of 5 lb // a comment
    price         40.00 per case // of last year
food diced pears
    price         1.50 per lb
food rye crisp
    price         0.20 each
food both ways
    pack          50 lb
    price         30.00 per case
    price         0.65 per lb
food unpriced
    pack          50 lb
food twice
    price 1.00 per lb
food twice
    price 1.00 per lb
container whipped ricotta
    price 0.10 each
"""

ROWS = {
    "Whipped Ricotta,4/5 lb,$44.00": ("44.00", ""),
    "Whipped Ricotta,20 lb,44.00": ("44.00", ""),
    "Whipped Ricotta,,44.00 per case": ("44.00", ""),
    "whipped ricotta,4 tubs of 5 lb,40": ("", ""),
    "whipped ricotta,6 x 5 lb,44.00": ("", "the list's pack 6 x 5 lb is not that of whipped ricotta"),
    "whipped ricotta,4/5 lb,2.00 per lb": ("", "the list's price is per lb, and that of whipped ricotta is not"),
    "diced pears,,1.75": ("1.75", ""),
    "diced pears,,1.75 per pound": ("1.75", ""),
    "diced pears,10 lb,17.50": ("", "diced pears has no `pack` line"),
    "rye crisp,,.25 ea": ("0.25", ""),
    "rye crisp,,lots": ("", "`lots` is no price for rye crisp"),
    "rye crisp,,0.00": ("", "a price of nothing is no price"),
    "both ways,,0.70/lb": ("0.70", ""),
    "both ways,,31": ("", "both ways has several prices"),
    "both ways,50 lb,31": ("31", ""),
    "unpriced,50 lb,31": ("", "unpriced has no `price` line"),
    "twice,,2": ("", "several declarations are called `twice`"),
    "diced pear,,2": ("", "nothing of the library is called `diced pear`; perhaps `diced pears` is meant"),
    "papaya,,2": ("", "nothing of the library is called `papaya`"),
}


@pytest.mark.parametrize("row", ROWS)
def test_a_row_is_an_edit_or_a_reason(row: str) -> None:
    (sheet,) = read_sheets("x.csv", f"Item,Pack,Price\n{row}\n".encode())
    found = price_changes(sheet, PricedThings({"foods.recipe": FOODS}))
    text, why = ROWS[row]
    assert [edit.text.split()[0] for edit in found.edits] == ([text] if text else [])
    assert [why in one.why for one in found.unmatched] == ([True] if why else [])


def test_two_prices_for_one_food_are_none() -> None:
    (sheet,) = read_sheets("x.csv", b"Item,Price\ndiced pears,1.75\nDiced Pears,1.80\n")
    found = price_changes(sheet, PricedThings({"foods.recipe": FOODS}))
    assert not found.edits
    assert "has another price in row 2; neither is taken" in found.unmatched[0].why


def test_packs_are_taken_only_where_that_is_asked_for() -> None:
    (sheet,) = read_sheets("x.csv", b"Item,Pack,Price\nwhipped ricotta,6 tubs of 5 lb,60\n")
    found = price_changes(sheet, PricedThings({"foods.recipe": FOODS}), with_packs=True)
    assert [edit.after for edit in found.edits] == [
        "pack          6 tubs of 5 lb // a comment",
        "price         60 per case // of last year",
    ]
    assert found.notes == ("row 2: the price of whipped ricotta goes up by 50%, 40.00 to 60",)


def test_line_ends_and_byte_order_mark_stay(library: Path, command: Command) -> None:
    text = "\ufeff" + (library / "foods.recipe").read_text(encoding="utf-8").replace("\n", "\r\n", 8)
    (library / "foods.recipe").write_bytes(text.encode())
    (library / "list.csv").write_text("Item,Price\ndiced pears,1.75\nsea salt,0.60\n", encoding="utf-8")
    assert command("bring-in", "list.csv", "--write").err.startswith("wrote foods.recipe\n2 words changed")
    changed = text.replace("price         1.50", "price         1.75").replace(
        "price         0.50", "price         0.60"
    )
    assert (library / "foods.recipe").read_bytes() == changed.encode()


def test_a_spreadsheet_and_json(library: Path, command: Command) -> None:
    book = openpyxl.Workbook()
    for row in (["Spring list"], ["Product", "Price"], ["Diced pears", 1.75], ["Papaya", 2]):
        book.active.append(row)
    book.save(library / "list.xlsx")
    found = json.loads(command("bring-in", "list.xlsx", "--as", "prices", "--format", "json").out)
    assert found["edits"] == [
        {
            "name": "diced pears", "path": "foods.recipe", "text": "1.75", "before": "price         1.50 per lb",
            "after": "price         1.75 per lb",
            "range": {"start": {"line": 21, "column": 19}, "end": {"line": 21, "column": 23}},
        }
    ]  # fmt: skip
    assert [one["name"] for one in found["unmatched"]] == ["Papaya"]


def test_included_folders_are_never_edited(library: Path, command: Command, tmp_path: Path) -> None:
    (tmp_path / "county").mkdir()
    (tmp_path / "county" / "more.recipe").write_text("food shared food\n    price 1.00 per lb\n", encoding="utf-8")
    config = (library / "recipelang.toml").read_text(encoding="utf-8")
    (library / "recipelang.toml").write_text(config + 'include = ["../county"]\n', encoding="utf-8")
    (library / "list.csv").write_text("Item,Price\nshared food,2\n", encoding="utf-8")
    done = command("bring-in", "list.csv", "--write", "--as", "prices")
    assert "nothing of the library is called `shared food`" in done.err
    assert "1.00" in (tmp_path / "county" / "more.recipe").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--as", "prices", "--name", "x"], "takes --write, and neither"),
        (["--as", "foods", "--write"], "--write edits prices in place"),
        (["--as", "prices", "--columns", "-, -, price"], "--columns names no `ingredient`"),
    ],
)
def test_options_that_do_not_go_together(library: Path, command: Command, words: list[str], why: str) -> None:
    (library / "list.csv").write_text("Item,Price\ndiced pears,1.75\n", encoding="utf-8")
    done = command("bring-in", "list.csv", *words)
    assert (done.code, done.out) == (2, "")
    assert why in done.err
    assert done.err.count("\n") == 1
