"""`recipelang print card`, and `recipelang card`: cards as text, HTML, PDF or JSON; on standard output, in a file, or one file a
card."""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path
from typing import Any, Final

from recipelang.commands import CommandError
from recipelang.commands.opening import named_recipe, open_for
from recipelang.evaluate.facts import Facts
from recipelang.findings.wording import counted
from recipelang.model.dates import day_of, day_text
from recipelang.papers.book import book_of
from recipelang.papers.card import CardOptions, card_of
from recipelang.text.writing import write_all
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, number_text, read_number
from recipelang.workspace.workspace import Workspace

_FORMATS: Final = {".html": "html", ".htm": "html", ".txt": "text", ".json": "json", ".pdf": "pdf"}
_UNSAFE: Final = re.compile(r"[^\w.-]+")
VERSION: Final = 1


def run(options: argparse.Namespace) -> int:
    if not options.names and not options.all:
        raise CommandError("name a recipe, or write --all for all of them")
    to = _format(options)
    workspace = open_for(options.workspace, options.school_year)
    refs = [named_recipe(workspace, name) for name in options.names]
    if options.all:
        refs = workspace.recipe_refs()
    if not refs:
        raise CommandError("the library has no recipes")
    stamp = _stamp(options.stamp, workspace)
    made = CardOptions(_portions(options.portions), workspace.config.name, stamp, _day(options.date))
    cards = [card_of(workspace.facts, ref, made) for ref in dict.fromkeys(refs)]
    bad = [card for card in cards if card["errors"]]
    if bad and options.strict:
        names = ", ".join(card["name_text"] for card in bad[:3])
        print(
            f"recipelang: {counted(len(bad), 'card has', 'cards have')} open errors, nothing is printed: {names}",
            file=sys.stderr,
        )
        return 1
    _write(options, to, cards, workspace)
    return 1 if bad else 0


def _write(options: argparse.Namespace, to: str, cards: list[dict[str, Any]], workspace: Workspace) -> None:
    printer = _Printer(to, options.side, options.sheet, workspace.facts, workspace.config.name)
    if options.out in ("", "-"):
        if to == "pdf" and sys.stdout.isatty():
            raise CommandError("a PDF is nothing for a terminal; write it to a file with `-o card.pdf`")
        content = printer.together(cards)
        if to == "pdf":
            sys.stdout.buffer.write(content)
        else:
            sys.stdout.write(content.decode("utf-8"))
        return
    out = Path(options.out)
    if out.is_dir() or options.out.endswith("/"):
        files = printer.apart(cards)
        out.mkdir(parents=True, exist_ok=True)
        write_all({out / name: content for name, content in files.items()})
    else:
        write_all({out: printer.together(cards)})
    print(f"{counted(len(cards), 'card')} in {options.out}", file=sys.stderr)


class _Printer:
    """One format and what belongs to it."""

    def __init__(self, to: str, side: str, paper: str, facts: Facts, library: str) -> None:
        self.to = to
        self.side = side
        self.paper = paper
        self.library = library
        limits = facts.settings.local.limits
        self.edges = (f"{number_text(limits.hot_hold.value)} °F", f"{number_text(limits.cold_hold.value)} °F")

    def together(self, cards: list[dict[str, Any]]) -> bytes:
        """One file of all cards: several on pages are a book."""
        if self.to == "pdf":
            return self._pdf(cards)
        return self._text(cards).encode("utf-8", "backslashreplace")

    def _text(self, cards: list[dict[str, Any]]) -> str:
        if self.to == "json":
            from recipelang.output.json_text import json_text

            return json_text({"version": VERSION, "cards": cards})
        if self.to == "html":
            from recipelang.output.as_html import book_page, card_page

            if len(cards) == 1:
                return card_page(cards[0], self.side, self.paper, self.edges)
            return book_page(book_of(cards, self.library), self.side, self.paper, self.edges)
        from recipelang.output.card_text import card_text_lines

        return "\n\n\n".join("\n".join(card_text_lines(card, self.side)) for card in cards) + "\n"

    def _pdf(self, cards: list[dict[str, Any]]) -> bytes:
        from recipelang.output.as_pdf import PdfUnavailable, TooManyCards, cards_pdf

        book = book_of(cards, self.library) if len(cards) > 1 else None
        try:
            content, foreign = cards_pdf(
                cards if book is None else book["cards"], book, self.side, self.paper, self.edges
            )
        except (PdfUnavailable, TooManyCards) as error:
            raise CommandError(str(error)) from None
        if foreign:
            print(f"recipelang: no typeface of ours has {foreign}; the system's are used", file=sys.stderr)
        return content

    def apart(self, cards: list[dict[str, Any]]) -> dict[str, bytes]:
        """A file for each card by its name; in HTML the index last."""
        names: dict[str, dict[str, Any]] = {}
        for card in cards:
            base = _UNSAFE.sub("-", f"{card['number_text']} {card['name_text']}".strip()).strip(".-") or "card"
            name, number = base, 2
            while name.casefold() in {one.casefold() for one in names}:
                name, number = f"{base}-{number}", number + 1
            names[name] = card
        ending = {"text": "txt"}.get(self.to, self.to)
        files = {f"{name}.{ending}": self.together([card]) for name, card in names.items()}
        if self.to == "html":
            from recipelang.output.as_html import index_page

            places = {id(card): f"{name}.html" for name, card in names.items()}
            book = book_of(cards, self.library, places)
            files["index.html"] = index_page(book, self.paper, self.edges).encode("utf-8", "backslashreplace")
        return files


def _format(options: argparse.Namespace) -> str:
    if options.to:
        return str(options.to)
    return _FORMATS.get(Path(options.out).suffix.casefold(), "html" if options.out.endswith("/") else "text")


def _portions(text: str) -> tuple[Fraction, ...]:
    found: list[Fraction] = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        try:
            value = read_number(part)
        except UnreadableNumber as error:
            raise CommandError(f"--portions: {error}") from None
        if value <= 0 or value.denominator != 1:
            raise CommandError(f"--portions takes whole numbers above nothing, as in 50,100, not {part}")
        found.append(value)
    if len(found) > 3:
        raise CommandError("--portions takes three sizes at most: a card has room for no more columns")
    return tuple(dict.fromkeys(found))


def _stamp(text: str, workspace: Workspace) -> str:
    if text != "git":
        return text
    from recipelang.workspace.git import GitError
    from recipelang.workspace.git_history import version_of

    try:
        return version_of(workspace.root, sorted(workspace.files))
    except GitError as error:
        raise CommandError(f"--stamp git: {error}") from None


def _day(text: str) -> str:
    if not text:
        return ""
    day = day_of(text)
    if day is None:
        raise CommandError(f"--date: `{text}` is no day of any calendar; write it like 2026-10-12")
    return day_text(day)
