"""Papers as HTML pages: one file without any request, every text escaped. The only module that imports Jinja2."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from jinja2 import FileSystemLoader, StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment

from recipelang.drawings.cup import cup
from recipelang.drawings.svg import definitions
from recipelang.drawings.timeline import timeline
from recipelang.output.cautions import ALLERGEN_CAUTION, SAFETY_CAUTION
from recipelang.output.page_text import amount, for_page, shown
from recipelang.papers.fit import type_size

PAPERS: Final = {"letter": "letter portrait", "a4": "A4 portrait"}

_TEMPLATES: Final = Path(__file__).parent / "templates"


def card_page(card: dict[str, Any], side: str, paper: str, edges: tuple[str, str]) -> str:
    """One card. `side` is bench, desk or both; `edges` are the hot and the cold edge of the danger zone."""
    return _render("one.html", [card], side, paper, edges, title_text=card["title_text"])


def book_page(book: dict[str, Any], side: str, paper: str, edges: tuple[str, str]) -> str:
    """Many cards with contents and indexes."""
    rest = {name: value for name, value in book.items() if name != "cards"}
    return _render("book.html", book["cards"], side, paper, edges, **rest)


def index_page(book: dict[str, Any], paper: str, edges: tuple[str, str]) -> str:
    """The contents and indexes of cards that stand in files of their own."""
    rest = {name: value for name, value in book.items() if name != "cards"}
    return _render("book.html", [], "both", paper, edges, **rest)


def _render(
    name: str, cards: list[dict[str, Any]], side: str, paper: str, edges: tuple[str, str], **more: Any
) -> str:  # fmt: skip
    environment = _environment(edges)
    return environment.get_template(name).render(
        cards=cards, side=side, paper=paper, page_size=PAPERS[paper], allergen_caution=ALLERGEN_CAUTION, safety_caution=SAFETY_CAUTION,
        caution_text=ALLERGEN_CAUTION, **more,
    )  # fmt: skip


@lru_cache(maxsize=4)
def _environment(edges: tuple[str, str]) -> ImmutableSandboxedEnvironment:
    made = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        finalize=_finished,
    )
    made.filters |= {
        "amount": amount,
        "cup": lambda container: cup(for_page(container)),
        "timeline": lambda slots: timeline(for_page(slots), *edges),
        "json_in_html": json_in_html,
        "type_size": lambda card, paper: f"{type_size(card, paper):.1f}pt",
    }
    made.globals |= {
        "definitions": definitions, "allergen_caution": ALLERGEN_CAUTION, "safety_caution": SAFETY_CAUTION,
    }  # fmt: skip
    return made


def _finished(value: Any) -> Any:
    """What stands in a page; what is marked as safe stays as it is."""
    return shown(value) if type(value) is str else value


def json_in_html(data: dict[str, Any]) -> str:
    """JSON that no text in it can end the element around, nor begin another."""
    text = json.dumps(data, ensure_ascii=True)
    for character in "<>&":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text
