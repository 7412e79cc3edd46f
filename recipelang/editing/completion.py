"""What could stand at the cursor, by where it stands: first words of a line, values of a field, ingredients, names in
steps, rules in an allowance."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from recipelang.editing.completion_items import (
    KEYWORD,
    RULE,
    CompletionItem,
    CompletionItems,
    components,
    forms,
    typing,
    units_of,
    words,
)
from recipelang.editing.cursor import INGREDIENTS, LEFTOVERS, NUTRITION, STEPS, Cursor, cursor_at
from recipelang.editing.field_completion import NONE, base_at, field_values, segment
from recipelang.editing.name_completion import CONTAINERS, EATEN, FOODS, RECIPES, ingredient_names, names
from recipelang.evaluate.names import resolve
from recipelang.model.names import Ref
from recipelang.model.vocabulary import NUTRIENT_TITLES, NUTRIENTS
from recipelang.rules.catalogue import rules
from recipelang.syntax.forms import BLOCKS, FORMS, IN_BLOCKS, TYPED, first_words
from recipelang.syntax.keywords import note_words
from recipelang.syntax.split import KINDS, fold
from recipelang.workspace.workspace import Workspace

_ALLOWING: Final = re.compile(r"//[ \t]*allow[ \t]+(?P<rule>[\w-]*)$")
_IN_STEP: Final = re.compile(
    r"^[ \t]*(?:(?:instead of|after) step \d+[ \t]*)?-.*\[(?P<inside>[^\[\]]*)$", re.IGNORECASE
)
_IS_STEP: Final = re.compile(r"^[ \t]*(?:(?:instead of|after) step \d+[ \t]*)?-(?:[ \t]|$)", re.IGNORECASE)


def offers_at(workspace: Workspace, path: str, offset: int) -> CompletionItems:
    """What could stand at an offset. Prose and names that are being given get no offers."""
    cursor = cursor_at(workspace, path, offset)
    if cursor.is_in_comment:
        return _rules(cursor)
    head = cursor.head
    if not head or not head[0].isspace():
        is_keyword = re.fullmatch(r"[a-z]*", head) is not None and not cursor.tail.strip()
        return CompletionItems(tuple(words(cursor.line_start, KINDS, "a declaration", KEYWORD))) if is_keyword else NONE
    if cursor.declaration is None:
        return NONE
    match = _IN_STEP.match(head)
    if match is not None and cursor.kind in ("recipe", "variation"):
        return _in_brackets(cursor, match["inside"], cursor.line_start + match.start("inside"))
    if _IS_STEP.match(head) and cursor.block != INGREDIENTS:
        return NONE
    text = head.lstrip()
    return _line(cursor, cursor.kind, text, cursor.offset - len(text))


def _line(cursor: Cursor, kind: str, text: str, start: int) -> CompletionItems:
    """A line of a kind of declaration, as far as it is typed."""
    if kind == "variation" and (match := re.match(r"change[ \t]+", text, re.IGNORECASE)):
        return _line(cursor, "recipe", text[match.end() :], start + match.end())
    if cursor.kind == "recipe" and cursor.block == INGREDIENTS and not text.casefold().startswith((STEPS, LEFTOVERS)):
        return _ingredient(cursor, text, start)
    if cursor.block == NUTRITION and not first_words(kind, text) and not text[:1].isdigit():
        return _nutrient(text, start)
    if kind == "variation" and (match := re.match(r"(use|add)[ \t]+", text, re.IGNORECASE)):
        return _changed(cursor, text[match.end() :], start + match.end(), match[1].casefold())
    if kind == "food" and (match := re.match(r"[\d.]+%[ \t]+of[ \t]+", text)):
        return names(cursor, start + match.end(), FOODS)
    phrase = first_words(kind, text)
    while phrase in ("ccp", "or") and (match := re.match(rf"{phrase}[ \t]+", text, re.IGNORECASE)):
        text, start = text[match.end() :], start + match.end()
        phrase = first_words(kind, text)
        if not phrase or len(text) <= len(phrase):
            return CompletionItems(tuple(forms(kind, start, [one for one in TYPED if one != "ccp"])))
    match = re.match(re.escape(phrase).replace(r"\ ", r"[ \t]+") + r"[ \t]+", text, re.IGNORECASE) if phrase else None
    if match is None:
        wanted = _first_words(cursor, kind)
        if len(text.split()) > 1 or text.endswith((" ", "\t")):  # one word may be misspelled, or only be meant like it
            wanted = [one for one in wanted if one.startswith(fold(text))]
        return CompletionItems(tuple(forms(kind, start, wanted)))
    found = field_values(cursor, kind, phrase, text[match.end() :], start + match.end())
    longer = [one for one in FORMS[kind] if one.startswith(f"{phrase} ") and one.startswith(fold(text))]
    return CompletionItems((*found.offers, *forms(kind, start, longer)), found.is_complete) if longer else found


def _first_words(cursor: Cursor, kind: str) -> list[str]:
    """The first words that a line may have where the cursor stands, those that are not there yet before the others."""
    every = FORMS[kind]
    if cursor.kind == "recipe":
        if cursor.block == STEPS:
            return [*TYPED, "or", "leftovers"]
        if cursor.block == LEFTOVERS:
            return ["keeps", *TYPED]
        every = {one: "" for one in every if one not in IN_BLOCKS or one in BLOCKS}
    elif cursor.kind == "variation" and kind == "recipe":
        every = {one: "" for one in every if one not in IN_BLOCKS}
    assert cursor.declaration is not None
    there = {first_words(cursor.kind, line) for line in cursor.declaration.text.splitlines() if line != cursor.line}
    return sorted(every, key=lambda one: one in there)


# ---- ingredients -----------------------------------------------------------------------------------------------------


def _ingredient(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """An ingredient line: the amount, what it is of, its notes."""
    match = re.match(r"or[ \t]+", text, re.IGNORECASE)
    if match is not None:
        text, start = text[match.end() :], start + match.end()
    taste = re.match(r"to[ \t]+taste[ \t]+", text, re.IGNORECASE)
    if "," in text:
        return _note(cursor, text, start)
    if taste is not None:
        return names(cursor, start + taste.end(), EATEN)
    stage = typing(text)
    if stage.stage == "unit":
        return CompletionItems(tuple(units_of(cursor.facts, _named_behind(cursor), start + stage.at)))
    if stage.stage == "name":
        return names(cursor, start + stage.at, EATEN)
    if text[:1].isdigit():
        return NONE
    wanted = ["to taste"] if match is not None else ["or", "to taste", "steps", "leftovers"]
    return CompletionItems(tuple(forms("recipe", start, wanted)))


def _named_behind(cursor: Cursor) -> Ref | None:
    """What the amount at the cursor is of, where its name is there already: some words behind it may still be the
    amount's."""
    parts = re.split(r"[,\]]|[ \t]per portion|[ \t]instead of", cursor.tail)[0].split()
    for at in range(min(6, len(parts))):
        ref = resolve(cursor.facts, fold(" ".join(parts[at:])), within=cursor.ref or "")
        if ref is not None:
            return ref
    return None


def _note(cursor: Cursor, text: str, start: int) -> CompletionItems:
    """What may stand behind an ingredient's comma."""
    part, at = segment(text, start, ",")
    match = re.match(r"on[ \t]+the[ \t]+side[ \t]+in[ \t]+", part, re.IGNORECASE)
    if match is not None:
        return names(cursor, at + match.end(), CONTAINERS)
    match = re.match(r"credited[ \t]+as[ \t]+", part, re.IGNORECASE)
    if match is not None:
        return CompletionItems(tuple(components(at + match.end())))
    return CompletionItems(tuple(words(at, [*note_words(), "on the side in"], "a note on the ingredient", KEYWORD)))


def _changed(cursor: Cursor, text: str, start: int, verb: str) -> CompletionItems:
    """What a variation adds, or uses instead of something of its base."""
    match = re.search(r"[ \t]instead[ \t]+of[ \t]+", text, re.IGNORECASE)
    if match is not None:
        return CompletionItems(tuple(ingredient_names(cursor, start + match.end(), base_at(cursor), with_called=False)))
    if "," in text:
        return _note(cursor, text, start)
    stage = typing(text)
    if stage.stage == "unit":
        return CompletionItems(tuple(units_of(cursor.facts, _named_behind(cursor), start + stage.at)))
    if stage.stage == "name" or (verb == "use" and not text[:1].isdigit()):
        at = stage.at
        is_named = resolve(cursor.facts, fold(text[at:]), within=cursor.ref or "") is not None
        if is_named and verb == "use" and text.endswith((" ", "\t")):
            return CompletionItems(tuple(words(cursor.offset, ["instead of"], kind=KEYWORD)))
        return names(cursor, start + at, EATEN)
    return NONE


def _nutrient(text: str, start: int) -> CompletionItems:
    """A nutrient of a label that is being typed, or its unit."""
    match = re.match(r"(?P<name>[a-z][a-z ]*?)[ \t]+[\d.]+[ \t]+(?P<unit>[a-z]*)$", text, re.IGNORECASE)
    if match is not None:
        unit = NUTRIENTS.get(fold(match["name"]), "")
        return CompletionItems(tuple(words(start + match.start("unit"), [unit] if unit and unit != "kcal" else [])))
    if any(letter.isdigit() for letter in text):
        return NONE
    titles = [NUTRIENT_TITLES.get(name, name) for name in NUTRIENTS]
    return CompletionItems((*words(start, titles, "a nutrient"), *forms("food", start, FORMS["food"])))


# ---- steps and comments ----------------------------------------------------------------------------------------------


def _in_brackets(cursor: Cursor, inside: str, start: int) -> CompletionItems:
    """A reference in a step: an amount, then an ingredient by the name it is called, or another recipe to link to."""
    match = re.match(r"[ \t]*rest[ \t]+of[ \t]+", inside, re.IGNORECASE)
    if match is not None:
        return CompletionItems(tuple(ingredient_names(cursor, start + match.end(), cursor.ref)))
    stage = typing(inside)
    if stage.stage == "unit":
        return CompletionItems(tuple(units_of(cursor.facts, _named_behind(cursor), start + stage.at)))
    if stage.stage == "number" and inside.strip() and inside.strip()[:1].isdigit():
        return NONE
    at = start + stage.at
    typed = inside[stage.at :]
    own = ingredient_names(cursor, at, cursor.ref)
    if typed.endswith((" ", "\t")) and _is_one_of(typed, own):
        return CompletionItems(tuple(words(cursor.offset, ["per portion"], kind=KEYWORD)))
    rest = words(at, ["rest of"], "what is left of an ingredient", KEYWORD) if stage.stage == "number" else []
    return (
        names(cursor, at, RECIPES, CompletionItems((*own, *rest)))
        if stage.stage == "number"
        else CompletionItems(tuple(own))
    )


def _is_one_of(typed: str, offers: Iterable[CompletionItem]) -> bool:
    return fold(typed) in {fold(offer.label) for offer in offers}


def _rules(cursor: Cursor) -> CompletionItems:
    """The rules that an allowance may name, with the place of its reason."""
    match = _ALLOWING.search(cursor.head)
    if match is None:
        return NONE
    start = cursor.line_start + match.start("rule")
    reason = "the reason"
    found: list[CompletionItem] = []
    for name, rule in rules().items():
        if not rule.may_allow:
            continue
        text = f"{name}: {reason}"
        field = ((len(text) - len(reason), len(text)),)
        is_plain = ":" in cursor.tail
        found.append(
            CompletionItem(name, RULE, start, "" if is_plain else text, () if is_plain else field, "", f"rule {name}")
        )
    return CompletionItems(tuple(found))
