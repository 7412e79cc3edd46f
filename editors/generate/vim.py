"""Vim's syntax file, which Neovim reads too: a region for each declaration, with the words that it knows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from editors.generate.textmate import NOTE, SERVED
from recipelang.syntax.highlighting import HEADINGS, fields, typed, units
from recipelang.syntax.keywords import inside_words, note_words
from recipelang.syntax.split import KINDS
from recipelang.text.digits import GLYPHS

FILE: Final = "vim/syntax/recipelang.vim"

_NUMBER: Final = rf"\$?%(\d+\/\d+|\d+%(,\d{{3}})*%(\.\d+)?%(%(\s+|-)\d+\/\d+|\s*[{GLYPHS}])?|\.\d+|[{GLYPHS}])"
_GRADES: Final = r"for\s+%(grades?>|pre-?k>|k>|preschool>|infants?>|adults?>|ages?>|\d)"
_NAME_REST: Final = r"%(%(\s+\/\/)@![^,;()\[\]{}=|])"
"""A letter of a name that is not its first."""
_TOOL_NUMBER: Final = r"%(#\s*|no\.?\s*)\d+"


def text() -> str:
    return "\n".join(_lines()) + "\n"


def any_of(words: Iterable[str]) -> str:
    """A very magic pattern for one of several phrases."""
    return "%(" + "|".join(word.replace(" ", r"\s+") for word in words) + ")"


def _lines() -> Iterator[str]:
    yield f'" {NOTE}'
    yield "if exists('b:current_syntax')"
    yield "  finish"
    yield "endif"
    yield "let b:current_syntax = 'recipelang'"
    yield "syntax case ignore"
    yield "syntax sync fromstart"
    yield ""
    yield r'syntax match recipelangComment "\v%(^|\s@1<=)//.*$" contains=recipelangAllow,@Spell'
    yield r'syntax match recipelangAllow "\v%(//\s*)@<=allow\s+[a-z-]+" contained'
    yield r'syntax match recipelangStray "\v^%(//)@!\S.*$"'
    yield '" of two matches in one place the later wins: names, values, what stands in blocks, first words'
    yield rf'syntax match recipelangIngredient "\v[[:alpha:]]{_NAME_REST}*" contained'
    yield rf'syntax match recipelangServedName "\v[[:alpha:]]%(%(\s+{_GRADES})@!{_NAME_REST})*" contained'
    yield from _values()
    yield ""
    yield from _parts()
    for kind in KINDS:
        yield ""
        yield from _declaration(kind)
    yield ""
    yield from _links()


def _declaration(kind: str) -> Iterator[str]:
    own = [f"recipelang{kind.capitalize()}Field"]
    if kind in ("recipe", "variation"):
        own += ["recipelangStep", f"recipelang{kind.capitalize()}Typed"]
    if kind == "recipe":
        own += ["recipelangIngredientLine"]
    if kind == "food":
        own += ["recipelangNutrient"]
    if kind == "menu":
        own += ["recipelangServed"]
    if kind in HEADINGS:
        own += [f"recipelang{kind.capitalize()}Block"]
    contains = ",".join(["recipelangName", "recipelangComment", "@recipelangValue", *own])
    yield (
        rf'syntax region recipelang{kind.capitalize()} matchgroup=recipelangKind start="\v^{kind}%([[:blank:],]|$)@=" '
        rf'end="\v^%(//)@!\S@=" keepend contains={contains}'
    )
    yield _first_words(f"recipelang{kind.capitalize()}Field", fields(kind))
    if kind in ("recipe", "variation"):
        words = [word for word in typed(kind) if word != "or"]
        yield (
            rf'syntax match recipelang{kind.capitalize()}Typed "\v^\s+%(or\s+)?%(ccp\s+)?{any_of(words)}%([[:blank:],]|$)@=" '
            "contained contains=recipelangControlPoint"
        )
    if kind in HEADINGS:
        yield _first_words(f"recipelang{kind.capitalize()}Block", HEADINGS[kind])


def _first_words(group: str, words: Iterable[str]) -> str:
    return rf'syntax match {group} "\v^\s+\zs{any_of(words)}%([[:blank:],]|$)@=" contained'


def _values() -> Iterator[str]:
    yield rf'syntax match recipelangNumber "\v%([[:alnum:]_-])@1<!{_NUMBER}" contained'
    yield r'syntax match recipelangNumber "\v%(#\s*|<no\.?\s*)\d+%(\s+%(scoop|can))@=" contained'
    yield r'syntax match recipelangDate "\v<\d{4}-\d{2}-\d{2}>" contained'
    yield rf'syntax match recipelangUnit "\v%([0-9{GLYPHS}]\s*)@<={any_of(units())}>" contained'
    yield rf'syntax match recipelangUnit "\v%([0-9{GLYPHS}]\s*)@<=%(\%|%([°º]|deg%(rees)?\s*)?[FC]>)" contained'
    yield r'syntax match recipelangString /"[^"]*"/ contained'
    yield rf'syntax match recipelangInside "\v[[:blank:],;]@1<={any_of(inside_words())}%([[:blank:],;]|$)@=" contained'
    yield "syntax cluster recipelangAmount contains=recipelangNumber,recipelangDate,recipelangUnit"
    yield "syntax cluster recipelangValue contains=@recipelangAmount,recipelangString,recipelangInside"


def _parts() -> Iterator[str]:
    kinds = any_of(KINDS)
    yield rf'syntax match recipelangName "\v%(^{kinds}\s+)@<=\S.{{-}}\ze%(\s+//.*|\s*)$" contained'
    yield r'syntax match recipelangControlPoint "\v<ccp>" contained'
    yield (
        r'syntax region recipelangStep matchgroup=recipelangDash start="\v^\s+%(%(instead\s+of|after)\s+step\s+\d+\s+)?-\s@=" '
        r'end="$" oneline contained contains=recipelangReference,recipelangComment,@Spell'
    )
    yield (
        r'syntax region recipelangReference matchgroup=recipelangBracket start="\[" end="\]" oneline contained '
        "contains=@recipelangAmount,recipelangShare"
    )
    yield r'syntax match recipelangShare "\v(\[\s*)@<=%(the\s+)?rest\s+of>|<per\s+portion\ze\s*\]" contained'
    yield (
        rf'syntax region recipelangIngredientLine start="\v^\s+%(or\s+)?%({_NUMBER}|{_TOOL_NUMBER}|to\s+taste)@=" end="$" '
        "oneline contained contains=@recipelangAmount,recipelangIngredient,recipelangNotes,recipelangComment,recipelangTaste"
    )
    numbered = r"%(\d+%(\.\d+)?\%|\d+%(\.\d+)?-[[:alpha:]]@=|[5-9]\d\/\d{1,2}\d@!)"
    for group in ("Ingredient", "ServedName"):
        yield rf'syntax match recipelang{group} "\v\s@1<={numbered}{_NAME_REST}*" contained'
    yield r'syntax match recipelangTaste "\v%(^\s+)@<=or>|<to\s+taste>|<by\s+weight>" contained'
    yield (
        r'syntax region recipelangNotes start="," end="$" oneline contained '
        "contains=recipelangNoteWord,recipelangComment,recipelangPercent"
    )
    yield rf'syntax match recipelangNoteWord "\v%(,\s*)@<={any_of(note_words())}%([[:blank:],]|$)@=" contained'
    yield rf'syntax match recipelangPercent "\v{_NUMBER}\s*\%" contained contains=recipelangUnit'
    yield (
        rf'syntax region recipelangServed matchgroup=recipelangMenuField start="\v^\s+%({"|".join(SERVED)})%([[:blank:],;]|$)@=" '
        'end="$" oneline contained contains=@recipelangAmount,recipelangServedName,recipelangServedBehind,recipelangComment'
    )
    yield (
        rf'syntax region recipelangServedBehind start="\v,|<%({_GRADES})@=" end="\v;|$" oneline contained '
        "contains=@recipelangValue,recipelangComment"
    )
    yield rf'syntax match recipelangNutrient "\v^\s+\zs[[:alpha:]][[:alpha:] (),/\'-]*\ze\s+[0-9{GLYPHS}<.]" contained'


def _links() -> Iterator[str]:
    groups = {
        "Comment": "Comment", "Allow": "SpecialComment", "Stray": "Error", "Kind": "Statement", "Name": "Title",
        "Dash": "Delimiter", "Bracket": "Delimiter", "Reference": "Identifier", "Share": "Operator",
        "ControlPoint": "Special", "Ingredient": "Identifier", "ServedName": "Identifier", "Taste": "Operator", "NoteWord": "Operator",
        "Nutrient": "Identifier", "Number": "Number", "Date": "Constant", "Percent": "Number", "Unit": "Type",
        "String": "String", "Inside": "Operator",
    }  # fmt: skip
    for kind in KINDS:
        groups[f"{kind.capitalize()}Field"] = "Keyword"
        if kind in HEADINGS:
            groups[f"{kind.capitalize()}Block"] = "Structure"
        if kind in ("recipe", "variation"):
            groups[f"{kind.capitalize()}Typed"] = "PreProc"
    for group, link in groups.items():
        yield f"highlight default link recipelang{group} {link}"
