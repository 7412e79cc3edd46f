"""Cards as PDF, tagged for readers, the same bytes each time. The only module that imports typst, which
`pip install 'recipelang[pdf]'` brings with a typeface of its own.

The template is ours, what fills it is JSON, and nothing in it is evaluated: a name is text whatever stands in it.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, Final

from recipelang.drawings.cup import cup
from recipelang.drawings.svg import definitions
from recipelang.drawings.timeline import timeline
from recipelang.output.cautions import ALLERGEN_CAUTION, SAFETY_CAUTION
from recipelang.output.page_text import for_page
from recipelang.papers.fit import type_size

_TEMPLATE: Final = Path(__file__).parent / "templates" / "cards.typ"
_PAPERS: Final = {"letter": "us-letter", "a4": "a4"}
_FONT: Final = "Source Sans Pro"
_NARROWER: Final = 0.9
"""How wide a letter of the typeface is beside those that a browser may take."""
_CLOSER: Final = 0.84
"""How far apart its lines are set beside those of a web page."""
_OWN_LETTERS: Final = re.compile("[^\x00-\u024f\u0370-\u04ff\u1e00-\u1fff\u2000-\u22ff\u2500-\u25ff\ufb00-\ufb06]")
"""Letters beyond Latin, Greek and Cyrillic: our typeface has none of them."""
_LONG_WORD: Final = re.compile(r"\S{24,}")
_MOST_CARDS: Final = 300
_PATTERNS: Final = {
    match[1]: match[0] for match in re.finditer(r'<pattern id="([\w-]+)".*?</pattern>', definitions())
}  # fmt: skip


class PdfUnavailable(Exception):
    """What it takes to make a PDF is not there; the message says what to do."""


class TooManyCards(Exception):
    """More cards than one document can hold in memory."""


def cards_pdf(
    cards: list[dict[str, Any]], book: dict[str, Any] | None, side: str, paper: str, edges: tuple[str, str]
) -> tuple[bytes, str]:
    """One document of all cards, and a letter that the system's typefaces had to supply, or none. Raises PdfUnavailable,
    TooManyCards."""
    if len(cards) > _MOST_CARDS:
        raise TooManyCards(
            f"{len(cards)} cards are too many for one PDF, which holds {_MOST_CARDS}; write a file a card with `-o FOLDER/ --to pdf`"
        )
    data = {
        "title_text": book["title_text"] if book is not None else cards[0]["title_text"],
        "paper": _PAPERS[paper],
        "side": side,
        "fonts": [_FONT],
        "allergen_caution": ALLERGEN_CAUTION,
        "safety_caution": SAFETY_CAUTION,
        "book": None if book is None else _book(book),
        "cards": [_card(card, at, paper, edges) for at, card in enumerate(cards, 1)],
    }
    text = json.dumps(for_page(data, _breakable), ensure_ascii=False)
    foreign = _OWN_LETTERS.search(_without_pictures(text))
    return _compile(text, ignore_system_fonts=foreign is None), "" if foreign is None else foreign[0]


def _compile(text: str, ignore_system_fonts: bool) -> bytes:
    try:
        import font_source_sans_pro
        import typst
    except ImportError:
        raise PdfUnavailable("PDF needs typst: pip install 'recipelang[pdf]'") from None
    fonts = Path(str(font_source_sans_pro.__file__)).parent / "files"

    def compiled(standards: list[typst.PDFStandard]) -> bytes:
        return typst.compile(
            _TEMPLATE, format="pdf", font_paths=[fonts], ignore_system_fonts=ignore_system_fonts,
            sys_inputs={"data": text}, pdf_standards=standards,
        )  # fmt: skip

    try:
        return compiled(["ua-1"])
    except RuntimeError:
        if ignore_system_fonts:
            raise
        return compiled([])  # no typeface of the system has the letter: an empty box is no accessible document


def _card(card: dict[str, Any], at: int, paper: str, edges: tuple[str, str]) -> dict[str, Any]:
    pretty = for_page(card)
    lines = pretty["desk"]["timeline"]
    return {
        **{name: value for name, value in card.items() if name not in ("recipe_data", "containers")},
        "label": f"card-{at}",
        "type_size": type_size(card, paper, _NARROWER, _CLOSER),
        "cups": [_picture(cup(one), one["name_text"]) for one in pretty["containers"]],
        "timeline": _picture(timeline(lines, *edges), "") if lines else None,
    }


def _book(book: dict[str, Any]) -> dict[str, Any]:
    """The indexes, each entry with the label of its card."""
    groups = {
        name: [
            {
                **group,
                "cards": [{**one, "label": one["href_text"].removeprefix("#")} for one in group["cards"]],
            }
            for group in book[name]
        ]
        for name in ("contents", "by_allergen", "by_component", "by_process")
    }
    return {"number_of_cards": book["number_of_cards"], "with_errors": book["with_errors"], **groups}


def _picture(svg: str, name: str) -> dict[str, str]:
    """A picture that stands alone: with its patterns, its typeface, and the sentence that it is read out as."""
    label = re.search(r'aria-label="([^"]*)"', svg)
    assert label is not None
    start = svg.index(">") + 1
    patterns = "".join(_PATTERNS[name] for name in dict.fromkeys(re.findall(r"url\(#([\w-]+)\)", svg)))
    alone = f'{svg[: start - 1]} font-family="{_FONT}"><defs>{patterns}</defs>{svg[start:]}'
    return {"svg": alone, "alt": _unescaped(label[1]), "name_text": name}


def _unescaped(text: str) -> str:
    for entity, character in (("&lt;", "<"), ("&gt;", ">"), ("&quot;", '"'), ("&#39;", "'"), ("&amp;", "&")):
        text = text.replace(entity, character)
    return text


def _without_pictures(text: str) -> str:
    return re.sub(r'"svg": "(?:[^"\\]|\\.)*"', "", text)


def _breakable(name: str, text: str) -> str:
    """A text whose long words may be broken; pictures and labels are left as they are."""
    if name in ("svg", "alt", "label", "paper", "side", "zone", "fonts"):
        return text
    return _LONG_WORD.sub(lambda match: "\u200b".join(re.findall(".{1,12}", match[0])), text)
