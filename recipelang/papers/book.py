"""Many cards as a book: contents by course, and indexes by allergen, by component and by process."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from recipelang.model.vocabulary import ALLERGENS, COURSES
from recipelang.text.sentence import capital

_NO_COURSE: Final = "other"
_NOT_KNOWN: Final = "not known: no label read for something in it"


def book_of(cards: list[dict[str, Any]], library: str, places: dict[int, str] | None = None) -> dict[str, Any]:
    """The cards in order of course and number, and where each is found: in the book itself, or by the `places` of the
    cards' own files, which are told by the cards' ids."""
    order = {course: at for at, course in enumerate(COURSES)}
    cards = sorted(
        cards,
        key=lambda card: (
            order.get(card["course_text"].casefold(), len(order)),
            card["number_text"],
            card["name_text"],
        ),
    )
    entries = [
        {
            "href_text": f"#card-{at}" if places is None else places[id(card)],
            "title_text": card["title_text"],
            "number_text": card["number_text"],
            "note_text": "",
        }
        for at, card in enumerate(cards, 1)
    ]
    pairs = list(zip(cards, entries, strict=True))
    return {
        "title_text": f"Recipe cards of {library}" if library else "Recipe cards",
        "cards": cards,
        "number_of_cards": len(cards),
        "with_errors": sum(bool(card["errors"]) for card in cards),
        "contents": _grouped((card["course_text"] or capital(_NO_COURSE), entry) for card, entry in pairs),
        "by_allergen": _by_allergen(pairs),
        "by_component": _grouped(
            sorted(
                (
                    (capital(row["name_text"]), {**entry, "note_text": row["credited_text"]})
                    for card, entry in pairs
                    for row in card["desk"]["credits"]
                    if row["credited_text"] != "nothing"
                ),
                key=lambda pair: pair[0],
            )
        ),
        "by_process": _grouped(
            sorted(((card["process_text"], entry) for card, entry in pairs), key=lambda pair: pair[0])
        ),
    }


def _by_allergen(pairs: list[tuple[dict[str, Any], dict[str, Any]]]) -> list[dict[str, Any]]:
    """Every allergen with the cards that contain it, may contain it, or of which nobody knows."""
    found: list[tuple[str, dict[str, Any]]] = []
    for name in ALLERGENS:
        for card, entry in pairs:
            if name in card["contains_names"]:
                found.append((capital(name), entry))
            elif name in card["may_contain"]:
                found.append((capital(name), {**entry, "note_text": "may contain"}))
    found += [
        (capital(_NOT_KNOWN), {**entry, "note_text": ", ".join(card["unknown"])})
        for card, entry in pairs
        if card["unknown"]
    ]
    return _grouped(found)


def _grouped(pairs: Iterable[tuple[str, dict[str, Any]]]) -> list[dict[str, Any]]:
    groups: dict[str, list[dict[str, Any]]] = {}
    for name, entry in pairs:
        groups.setdefault(name, []).append(entry)
    return [{"name_text": name, "cards": cards} for name, cards in groups.items()]
