"""Cards as PDF: pages, tags, the same bytes, and any text as text. typst itself holds each document to PDF/UA-1."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from recipelang import Workspace
from recipelang.commands import run
from recipelang.output.as_pdf import TooManyCards, cards_pdf
from recipelang.papers.book import book_of
from recipelang.papers.card import CardOptions, card_of
from tests.architecture.project import ROOT
from tests.output.test_cards import EDGES, HOSTILE, LIBRARY, cards

pytest.importorskip("typst")


def pages(document: bytes) -> int:
    found = re.search(rb"/Count (\d+)", document)
    assert found is not None
    return int(found[1])


def text_of(document: bytes, tmp_path: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext here")
    (tmp_path / "card.pdf").write_bytes(document)
    done = subprocess.run(["pdftotext", "-layout", str(tmp_path / "card.pdf"), "-"], capture_output=True, check=True)
    return " ".join(done.stdout.decode("utf-8").replace("\u200b", "").replace("\u00a0", " ").split())


@pytest.fixture(scope="module")
def examples() -> Workspace:
    return Workspace.open([ROOT / "examples"])


def card(library: Workspace, name: str) -> dict[str, Any]:
    return card_of(library.facts, name, CardOptions(library="Brindle Cove Schools"))


def test_a_card_has_a_page_for_the_wall_and_one_for_the_office(examples: Workspace) -> None:
    for paper in ("letter", "a4"):
        document, foreign = cards_pdf([card(examples, "apricot ricotta cup")], None, "both", paper, EDGES)
        assert document.startswith(b"%PDF-")
        assert pages(document) == 2
        assert b"/StructTreeRoot" in document
        assert not foreign


def test_a_card_holds_every_name_and_amount(examples: Workspace, tmp_path: Path) -> None:
    one = card(examples, "naan dough")
    told = text_of(cards_pdf([one], None, "bench", "letter", EDGES)[0], tmp_path)
    for step in one["steps"]:
        for line in step["goes_in"]:
            assert line["name_text"].split()[0] in told
    for amount in ("4 lb 12 oz", "9 lb 8 oz", "1 gal 2 cups", "3 tbsp ½ tsp"):
        assert amount in told
    assert "CCP 1" in told
    assert "CONTAINS milk · wheat" in told


def test_the_same_card_gives_the_same_bytes_in_any_process(examples: Workspace, tmp_path: Path) -> None:
    made = []
    for name in ("one.pdf", "two.pdf"):
        subprocess.run(
            [sys.executable, "-m", "recipelang", "card", "naan dough", "-o", str(tmp_path / name)],
            cwd=ROOT / "examples", check=True, capture_output=True,
        )  # fmt: skip
        made.append((tmp_path / name).read_bytes())
    assert made[0] == made[1]


@pytest.mark.parametrize("name", [*HOSTILE, '#panic("x")', "*bold* _it_ $x$ @ref <label> \\ // /*", "]", "#import x"])
def test_any_text_comes_out_as_text(name: str, tmp_path: Path) -> None:
    one = cards(LIBRARY, "pear cup")[0]
    one["title_text"] = one["steps"][0]["words"][0]["text"] = one["unnamed"][0]["note_text"] = name
    one["errors"] = [{"where_text": name, "message_text": name, "fix_text": name}]
    book = book_of([one, cards(LIBRARY, "pear cup")[0]], name)
    document, foreign = cards_pdf(book["cards"], book, "both", "letter", EDGES)
    assert pages(document) >= 4
    assert bool(foreign) == any(ord(character) > 0x24F and character.isalpha() for character in name)
    if name.isascii() and name.isprintable():
        assert " ".join(name.split()) in text_of(document, tmp_path).replace("- ", "")


def test_an_open_error_stands_on_the_wall_and_in_the_office(tmp_path: Path) -> None:
    one = cards(LIBRARY.replace("1/2 cup fruit\n\n", "3/4 cup fruit\n\n"), "pear cup")[0]
    for side in ("bench", "desk"):
        assert "Do not cook from this card" in text_of(cards_pdf([one], None, side, "letter", EDGES)[0], tmp_path)


def test_more_cards_than_memory_takes_are_refused() -> None:
    with pytest.raises(TooManyCards, match="-o FOLDER/"):
        cards_pdf([{}] * 301, None, "both", "letter", EDGES)


def test_without_typst_one_line_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    out = tmp_path / "card.pdf"
    assert run(["card", "naan dough", "-o", str(out), "--workspace", str(ROOT / "examples")]) == 2
    assert capsys.readouterr().err == "recipelang: PDF needs typst: pip install 'recipelang[pdf]'\n"
    assert not out.exists()


def test_a_terminal_gets_no_pdf(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert run(["card", "naan dough", "--to", "pdf", "--workspace", str(ROOT / "examples")]) == 2
    assert "-o card.pdf" in capsys.readouterr().err
