"""Kate's highlighting in XML: a context for each declaration, with the words that it knows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import quoteattr

from editors.generate.textmate import GRADES, NOTE, SERVED, SERVED_NAME
from recipelang.syntax.highlighting import (
    DATE,
    HEADINGS,
    NAME_REST,
    NUMBER,
    NUMBERED_NAME,
    TEMPERATURE,
    TOOL_NUMBER,
    WORD_END,
    any_of,
    fields,
    typed,
    unit_pattern,
)  # fmt: skip
from recipelang.syntax.keywords import inside_words, note_words
from recipelang.syntax.split import KINDS
from recipelang.text.digits import GLYPHS

FILE: Final = "kate/recipelang.xml"

_STYLES: Final = {
    "Normal Text": "dsNormal", "Declaration": "dsKeyword", "Name": "dsDataType", "Field": "dsAttribute",
    "Block": "dsControlFlow", "Typed": "dsFunction", "Control Point": "dsSpecialChar", "Ingredient": "dsVariable",
    "Nutrient": "dsVariable", "Number": "dsDecVal", "Unit": "dsConstant", "Date": "dsConstant", "Text": "dsString",
    "Word": "dsOperator", "Dash": "dsOperator", "Comment": "dsComment", "Allow": "dsAnnotation", "Stray": "dsError",
}  # fmt: skip


def text() -> str:
    return "\n".join(_lines()) + "\n"


def _lines() -> Iterator[str]:
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield "<!DOCTYPE language>"
    yield f"<!-- {NOTE} -->"
    yield (
        '<language name="recipelang" section="Markup" version="1" kateversion="5.0" extensions="*.recipe" '
        'mimetype="text/x-recipelang" casesensitive="0" author="" license="MIT">'
    )
    yield "  <highlighting>"
    yield "    <contexts>"
    yield from _context("Normal", "Normal Text", _normal())
    for kind in KINDS:
        yield from _context(f"{kind} header", "Name", [_include("comment")], end=f"{kind} lines")
        yield from _context(f"{kind} lines", "Normal Text", _kind(kind))
    yield from _context("amounts", "Normal Text", _amounts())
    yield from _context("value", "Normal Text", _value())
    yield from _context("comment", "Normal Text", [_rule("Comment", r"(?:^|(?<=\s))//", "comment text")])
    yield from _context(
        "comment text",
        "Comment",
        [_rule("Allow", r"(?<=//)\s*allow\s+[\w-]+"), '<IncludeRules context="##Comments"/>'],
        end="#pop",
    )
    yield from _context(
        "step",
        "Normal Text",
        [_include("comment"), '<DetectChar attribute="Dash" context="reference" char="["/>'],
        end="#pop",
    )
    yield from _context("reference", "Ingredient", _reference(), end="#pop")
    yield from _context("ingredient", "Normal Text", _ingredient(), end="#pop")
    yield from _context("notes", "Normal Text", _notes(), end="#pop#pop")
    yield from _context("served", "Normal Text", _served(), end="#pop")
    behind = ['<DetectChar attribute="Normal Text" context="#pop" char=";"/>', _include("value")]
    yield from _context("behind served", "Normal Text", behind, end="#pop#pop")
    yield "    </contexts>"
    yield "    <itemDatas>"
    for name, style in _STYLES.items():
        yield f'      <itemData name="{name}" defStyleNum="{style}"/>'
    yield "    </itemDatas>"
    yield "  </highlighting>"
    yield "  <general>"
    yield '    <comments><comment name="singleLine" start="//"/></comments>'
    yield '    <keywords casesensitive="0"/>'
    yield "  </general>"
    yield "</language>"


def _context(name: str, attribute: str, rules: list[str], end: str = "#stay") -> Iterator[str]:
    yield f'      <context name="{name}" attribute="{attribute}" lineEndContext="{end}">'
    for rule in rules:
        yield f"        {rule}"
    yield "      </context>"


def _rule(attribute: str, pattern: str, context: str = "#stay", more: str = "") -> str:
    return (
        f'<RegExpr attribute="{attribute}" context="{context}" String={quoteattr(pattern)} insensitive="true"{more}/>'
    )


def _include(context: str) -> str:
    return f'<IncludeRules context="{context}"/>'


def _normal() -> list[str]:
    headers = [_rule("Declaration", rf"^{kind}(?=[\s,]|$)", f"{kind} header", ' column="0"') for kind in KINDS]
    return [_include("comment"), *headers, _rule("Stray", r"^\S.*$", more=' column="0"')]


def _kind(kind: str) -> list[str]:
    rules = [
        _include("comment"),
        _rule("Normal Text", r"^(?!//)\S", "#pop#pop", ' lookAhead="true" column="0"'),
    ]
    if kind in ("recipe", "variation"):
        rules.append(_rule("Dash", r"^\s+(?:(?:instead\s+of|after)\s+step\s+\d+\s+)?-(?=\s)", "step"))
        words = [word for word in typed(kind) if word != "or"]
        rules.append(_rule("Control Point", rf"^\s+(?:or\s+)?ccp(?=\s+{any_of(words)}{WORD_END})"))
        rules.append(_rule("Typed", rf"^\s+(?:or\s+)?{any_of(words)}{WORD_END}"))
        rules.append(_rule("Typed", rf"(?<=ccp)\s+{any_of(words)}{WORD_END}"))
    if kind in HEADINGS:
        rules.append(_rule("Block", rf"^\s+{any_of(HEADINGS[kind])}{WORD_END}"))
    if kind == "recipe":
        start = rf"^\s+(?=(?:or\s+)?(?:{NUMBER}|{TOOL_NUMBER}|to\s+taste{WORD_END}))"
        rules.append(_rule("Normal Text", start, "ingredient"))
    if kind == "menu":
        rules.append(_rule("Field", rf"^\s+{any_of(SERVED)}{WORD_END}", "served"))
    rules.append(_rule("Field", rf"^\s+{any_of(fields(kind))}{WORD_END}"))
    if kind == "food":
        rules.append(_rule("Nutrient", rf"^\s+[^\W\d_][\w'(),/-]*(?:\s+[^\W\d_][\w'(),/-]*)*(?=\s+(?:{NUMBER}|<))"))
    return [*rules, _include("value")]


def _amounts() -> list[str]:
    number = rf"(?<![\w-]){NUMBER}"
    return [
        _rule("Date", DATE),
        _rule("Number", rf"{TOOL_NUMBER}(?=\s+(?:scoops?|cans?)(?![\w-]))"),
        _rule("Unit", r"(?<=\d)\s+(?:scoops?|cans?)(?![\w-])"),
        _rule("Number", rf"{number}(?=\s*(?:%|{TEMPERATURE}|{unit_pattern()}))"),
        _rule("Unit", rf"(?<=\d|[{GLYPHS}])\s*(?:%|{TEMPERATURE}|{unit_pattern()})"),
        _rule("Number", rf"{number}(?![\w-])"),
    ]


def _value() -> list[str]:
    return [
        _include("comment"),
        _rule("Text", r'"[^"]*"'),
        _include("amounts"),
        _rule("Word", rf"(?<=[\s,;]){any_of(inside_words())}{WORD_END}"),
    ]


def _reference() -> list[str]:
    return [
        '<DetectChar attribute="Dash" context="#pop" char="]"/>',
        _rule("Word", r"(?<=\[)\s*(?:the\s+)?rest\s+of(?=\s)"),
        _rule("Word", r"per\s+portion(?=\s*\])"),
        _include("amounts"),
    ]


def _ingredient() -> list[str]:
    return [
        _include("comment"),
        '<DetectChar attribute="Normal Text" context="notes" char=","/>',
        _rule("Word", rf"(?<=\s)or(?=\s+(?:{NUMBER}|#|to\s+taste))"),
        _rule("Word", rf"(?<=[\s=|])(?:to\s+taste|by\s+weight){WORD_END}"),
        _rule("Ingredient", rf"(?<=\s){NUMBERED_NAME}{NAME_REST}"),
        _include("amounts"),
        _rule("Ingredient", rf"[^\W\d_]{NAME_REST}"),
    ]


def _served() -> list[str]:
    return [
        _include("comment"),
        '<DetectChar attribute="Normal Text" context="behind served" char=","/>',
        _rule("Normal Text", rf"(?<=\s)(?={GRADES})", "behind served"),
        _rule("Ingredient", rf"(?<=\s){NUMBERED_NAME}{NAME_REST}"),
        _include("amounts"),
        _rule("Ingredient", SERVED_NAME),
    ]


def _notes() -> list[str]:
    return [
        _include("comment"),
        _rule("Word", rf"(?<=,)\s*{any_of(note_words())}{WORD_END}"),
        _rule("Number", rf"{NUMBER}\s*%"),
    ]
