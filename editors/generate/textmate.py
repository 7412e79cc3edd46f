"""The TextMate grammar that VS Code reads. A word is colored only in the kind of declaration that knows it."""

from __future__ import annotations

import json
from typing import Any, Final

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

FILE: Final = "vscode/syntaxes/recipelang.tmLanguage.json"
SCOPE: Final = "source.recipelang"

NOTE: Final = "Made by `python -m editors.generate` from the notation's grammar; changes here are lost."

SERVED: Final = ("serve", "sell")
"""First words of a menu's lines that begin with a name, or with an amount and a name."""
GRADES: Final = r"for[ \t]+(?:grades?|pre-?k|k|preschool|infants?|adults?|ages?|\d)"
"""The end of such a name."""
SERVED_NAME: Final = rf"[^\W\d_][^\s,;()\[\]{{}}=|\"]*(?:[ \t]+(?!//|{GRADES})[^\s,;()\[\]{{}}=|\"]+)*"

Rule = dict[str, Any]


def text() -> str:
    return json.dumps(grammar(), indent=2, ensure_ascii=False) + "\n"


def grammar() -> dict[str, Any]:
    """The grammar as JSON's objects."""
    return {
        "comment": NOTE,
        "name": "recipelang",
        "scopeName": SCOPE,
        "fileTypes": ["recipe"],
        "patterns": [*({"include": f"#{kind}"} for kind in KINDS), {"include": "#comment"}, _stray()],
        "repository": {
            **{kind: _declaration(kind) for kind in KINDS},
            **{f"{kind}-line": {"patterns": _lines(kind)} for kind in KINDS},
            "comment": _comment(),
            "value": {"patterns": _value()},
            "step": _step(),
            "ingredient": _ingredient(),
            "served": _served(),
        },
    }


def _scope(name: str) -> str:
    return f"{name}.recipelang"


def _declaration(kind: str) -> Rule:
    """From a header to the next text in the first column; comments there end nothing."""
    return {
        "name": _scope(f"meta.{kind}"),
        "begin": rf"^(?i:({kind}))(?=[\s,]|$)(?:[ \t]+((?:(?!(?<=\s)//).)*[^\s/]))?",
        "beginCaptures": {"1": {"name": _scope("storage.type.declaration")}, "2": {"name": _scope("entity.name.type")}},
        "end": r"^(?=\S)(?!//)",
        "patterns": [{"include": "#comment"}, {"include": f"#{kind}-line"}],
    }


def _lines(kind: str) -> list[Rule]:
    rules: list[Rule] = []
    if kind in ("recipe", "variation"):
        rules.append({"include": "#step"})
        rules.append(_typed_line(kind))
    headings = HEADINGS.get(kind)
    if headings:
        rules.append(_line(headings, "keyword.control.block"))
    if kind == "recipe":
        rules.append({"include": "#ingredient"})
    if kind == "menu":
        rules.append({"include": "#served"})
    rules.append(_line(fields(kind), "keyword.other.field"))
    if kind == "food":
        rules.append(_nutrient())
    return [*rules, {"include": "#value"}]


def _line(words: tuple[str, ...], scope: str) -> Rule:
    """First words of a line."""
    return {"match": rf"(?i)^[ \t]+({any_of(words)}){WORD_END}", "captures": {"1": {"name": _scope(scope)}}}


def _typed_line(kind: str) -> Rule:
    words = any_of([word for word in typed(kind) if word != "or"])
    return {
        "match": rf"(?i)^[ \t]+(?:(or)[ \t]+)?(?:(ccp)[ \t]+)?({words}){WORD_END}",
        "captures": {
            "1": {"name": _scope("keyword.operator.word")},
            "2": {"name": _scope("keyword.control.ccp")},
            "3": {"name": _scope("keyword.control.step")},
        },
    }


def _ingredient() -> Rule:
    """A line that begins with an amount: amounts, a name, and behind a comma where all but their words is
    prose."""
    return {
        "name": _scope("meta.ingredient"),
        "begin": rf"(?i)^[ \t]+(?=(?:or[ \t]+)?(?:{NUMBER}|{TOOL_NUMBER}|to[ \t]+taste{WORD_END}))",
        "end": r"$",
        "patterns": [
            {"include": "#comment"},
            {
                "begin": ",",
                "end": "$",
                "beginCaptures": {"0": {"name": _scope("punctuation.separator")}},
                "patterns": [
                    {"include": "#comment"},
                    {
                        "match": rf"(?i)(?<=,)[ \t]*({any_of(note_words())}){WORD_END}",
                        "captures": {"1": {"name": _scope("keyword.operator.word")}},
                    },
                    {"match": ",", "name": _scope("punctuation.separator")},
                    {
                        "match": rf"({NUMBER})[ \t]*(%)",
                        "captures": {
                            "1": {"name": _scope("constant.numeric")},
                            "2": {"name": _scope("keyword.other.unit")},
                        },
                    },
                ],
            },
            {"match": rf"(?i)(?<=\s)or(?=[ \t]+(?:{NUMBER}|#|to[ \t]+taste))", "name": _scope("keyword.operator.word")},
            {
                "match": rf"(?i)(?<=[\s=|])(to[ \t]+taste|by[ \t]+weight){WORD_END}",
                "name": _scope("keyword.operator.word"),
            },
            {"match": rf"(?<=\s){NUMBERED_NAME}{NAME_REST}", "name": _scope("variable.other.ingredient")},
            *_amounts(),
            {"match": r"[=|]", "name": _scope("punctuation.separator")},
            {"match": rf"[^\W\d_]{NAME_REST}", "name": _scope("variable.other.ingredient")},
        ],
    }


def _served() -> Rule:
    """A menu's line: names, and behind them for whom, how many and how. A name may hold words of the notation."""
    behind = {"end": r"(?=;)|$", "patterns": [{"include": "#value"}]}
    return {
        "name": _scope("meta.served"),
        "begin": rf"(?i)^[ \t]+({any_of(SERVED)}){WORD_END}",
        "end": r"$",
        "beginCaptures": {"1": {"name": _scope("keyword.other.field")}},
        "patterns": [
            {"include": "#comment"},
            {"begin": ",", **behind, "beginCaptures": {"0": {"name": _scope("punctuation.separator")}}},
            {"begin": rf"(?i)(?=(?<=\s){GRADES})", **behind},
            {"match": ";", "name": _scope("punctuation.separator")},
            {"match": rf"(?<=\s){NUMBERED_NAME}{NAME_REST}", "name": _scope("variable.other.ingredient")},
            *_amounts(),
            {"match": rf"(?i){SERVED_NAME}", "name": _scope("variable.other.ingredient")},
        ],
    }


def _nutrient() -> Rule:
    return {
        "match": rf"^[ \t]+([^\W\d_][\w'(),/-]*(?:[ \t]+[^\W\d_][\w'(),/-]*)*)[ \t]+(?={NUMBER}|<)",
        "captures": {"1": {"name": _scope("variable.other.nutrient")}},
    }


def _step() -> Rule:
    """Prose: nothing in it is colored but what stands in brackets."""
    return {
        "name": _scope("meta.step"),
        "begin": r"(?i)^[ \t]+(?:((?:instead[ \t]+of|after)[ \t]+step)[ \t]+(\d+)[ \t]+)?(-)(?=[ \t])",
        "beginCaptures": {
            "1": {"name": _scope("keyword.other.field")},
            "2": {"name": _scope("constant.numeric")},
            "3": {"name": _scope("punctuation.definition.list")},
        },
        "end": r"$",
        "patterns": [
            {"include": "#comment"},
            {
                "name": _scope("meta.reference"),
                "begin": r"\[",
                "end": r"\]|$",
                "beginCaptures": {"0": {"name": _scope("punctuation.definition.reference.begin")}},
                "endCaptures": {"0": {"name": _scope("punctuation.definition.reference.end")}},
                "patterns": [
                    {
                        "match": r"(?i)(?<=\[)[ \t]*((?:the[ \t]+)?rest[ \t]+of)(?=[ \t])",
                        "captures": {"1": {"name": _scope("keyword.operator.word")}},
                    },
                    {"match": r"(?i)per[ \t]+portion(?=[ \t]*\])", "name": _scope("keyword.operator.word")},
                    *_amounts(),
                    {"match": r"[^\s\[\]]+", "name": _scope("variable.other.ingredient")},
                ],
            },
        ],
    }


def _comment() -> Rule:
    return {
        "name": _scope("comment.line.double-slash"),
        "begin": r"(?:^|(?<=\s))//",
        "end": r"$",
        "beginCaptures": {"0": {"name": _scope("punctuation.definition.comment")}},
        "patterns": [
            {
                "match": r"(?i)(?<=//)[ \t]*(allow)[ \t]+([\w-]+)",
                "captures": {
                    "1": {"name": _scope("keyword.other.allow")},
                    "2": {"name": _scope("entity.name.tag.rule")},
                },
            }
        ],
    }


def _amounts() -> list[Rule]:
    return [
        {"match": DATE, "name": _scope("constant.other.date")},
        {
            "match": rf"(?i)({TOOL_NUMBER})[ \t]+(scoops?|cans?)(?![\w-])",
            "captures": {"1": {"name": _scope("constant.numeric")}, "2": {"name": _scope("keyword.other.unit")}},
        },
        {
            "match": rf"(?<![\w-])({NUMBER})[ \t]*(%|{TEMPERATURE})",
            "captures": {"1": {"name": _scope("constant.numeric")}, "2": {"name": _scope("keyword.other.unit")}},
        },
        {
            "match": rf"(?i)(?<![\w-])({NUMBER})[ \t]*({unit_pattern()})",
            "captures": {"1": {"name": _scope("constant.numeric")}, "2": {"name": _scope("keyword.other.unit")}},
        },
        {"match": rf"(?<![\w-]){NUMBER}(?![\w-])", "name": _scope("constant.numeric")},
    ]


def _value() -> list[Rule]:
    """What stands behind a line's first words."""
    return [
        {"include": "#comment"},
        {"match": r'"[^"\n]*"', "name": _scope("string.quoted.double")},
        *_amounts(),
        {
            "match": rf"(?i)(?<=[\s,;])({any_of(inside_words())}){WORD_END}",
            "captures": {"1": {"name": _scope("keyword.operator.word")}},
        },
        {"match": r"[,;:=|]", "name": _scope("punctuation.separator")},
    ]


def _stray() -> Rule:
    """First-column text that begins no declaration."""
    return {"match": r"^(?!//)\S.*$", "name": _scope("invalid.illegal.stray")}
