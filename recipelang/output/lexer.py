"""The notation for Pygments: colors in `pygmentize`, in rich, in Sphinx and in pages made by them.

Its words come from the grammar and the line forms, as those of the editors do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, ClassVar, Final

from pygments.lexer import RegexLexer, bygroups, default, include
from pygments.token import Comment, Error, Generic, Keyword, Literal, Name, Number, Operator, Punctuation, String, Text

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
    units,
)
from recipelang.syntax.keywords import inside_words, note_words
from recipelang.syntax.split import KINDS

_groups: Final[Any] = bygroups  # untyped in the stubs
_NAME: Final = rf"[^\W\d_]{NAME_REST}"
_UNITS: Final = any_of(units())


def _first(words: Iterable[str]) -> str:
    """First words of a line."""
    return rf"(?<=\n)([ \t]+)({any_of(words)}){WORD_END}"


def _body(kind: str) -> list[Any]:
    """The lines of one kind of declaration."""
    rules: list[Any] = [(r"\n", Text), (r"(?<=\n)(?=\S)(?!//)", Text, "#pop"), include("comment")]
    if kind in ("recipe", "variation"):
        words = any_of(word for word in typed(kind) if word != "or")
        rules += [
            (r"(?<=\n)([ \t]+)((?:instead[ \t]+of|after)[ \t]+step)([ \t]+)(\d+)([ \t]+)(-)(?=[ \t])",
             _groups(Text, Keyword, Text, Number, Text, Punctuation), "step"),
            (r"(?<=\n)([ \t]+)(-)(?=[ \t])", _groups(Text, Punctuation), "step"),
            (rf"(?<=\n)([ \t]+)(or)([ \t]+)(ccp)([ \t]+)({words}){WORD_END}",
             _groups(Text, Operator.Word, Text, Generic.Strong, Text, Name.Function)),
            (rf"(?<=\n)([ \t]+)(or|ccp)([ \t]+)({words}){WORD_END}", _groups(Text, Operator.Word, Text, Name.Function)),
            (rf"(?<=\n)([ \t]+)({words}){WORD_END}", _groups(Text, Name.Function)),
        ]  # fmt: skip
    if kind in HEADINGS:
        rules.append((_first(HEADINGS[kind]), _groups(Text, Keyword.Namespace)))
    if kind == "recipe":
        rules.append(
            (rf"(?<=\n)[ \t]+(?=(?:or[ \t]+)?(?:{NUMBER}|#[ \t]*\d|to[ \t]+taste{WORD_END}))", Text, "ingredient")
        )
    rules.append((_first(fields(kind)), _groups(Text, Keyword)))
    if kind == "food":
        rules.append((
            rf"(?<=\n)([ \t]+)([^\W\d_][\w'(),/-]*(?:[ \t]+[^\W\d_][\w'(),/-]*)*)(?=[ \t]+(?:{NUMBER}|<))",
            _groups(Text, Name.Attribute),
        ))  # fmt: skip
    return [*rules, include("value")]


class RecipeLexer(RegexLexer):
    """Standardized recipes in plain text."""

    name = "recipelang"
    aliases: ClassVar = ["recipelang", "recipe"]
    filenames: ClassVar = ["*.recipe"]
    mimetypes: ClassVar = ["text/x-recipelang"]
    flags = re.IGNORECASE
    tokens: ClassVar[dict[str, list[Any]]] = {
        "root": [
            (r"\n", Text),
            include("comment"),
            *(
                (rf"(?<![^\n])({kind})(?=[\s,]|$)", _groups(Keyword.Declaration), (f"{kind}-body", "header"))
                for kind in KINDS
            ),
            (r"[^\n]+", Error),
        ],
        "header": [
            include("comment"),
            (r"[ \t]+", Text),
            (r"(?:(?![ \t]+//)[^\n])+", Name.Class),
            default("#pop"),
        ],
        **{f"{kind}-body": _body(kind) for kind in KINDS},
        "comment": [
            (r"(?<!\S)(//[ \t]*)(allow[ \t]+[\w-]+)([^\n]*)", _groups(Comment.Single, Comment.Special, Comment.Single)),
            (r"(?<!\S)//[^\n]*", Comment.Single),
        ],
        "amount": [
            (DATE, Literal.Date),
            (rf"({TOOL_NUMBER})([ \t]+)(scoops?|cans?)(?![\w-])", _groups(Number, Text, Keyword.Type)),
            (rf"(?<![\w-])({NUMBER})([ \t]*)(%|{TEMPERATURE})",
             _groups(Number, Text, Keyword.Type)),
            (rf"(?<![\w-])({NUMBER})([ \t]*)({_UNITS})(?![\w-])",
             _groups(Number, Text, Keyword.Type)),
            (rf"(?<![\w-]){NUMBER}(?![\w-])", Number),
        ],
        "value": [
            include("comment"),
            (r'"[^"\n]*"', String.Double),
            include("amount"),
            (rf"(?<=[\s,;]){any_of(inside_words())}{WORD_END}", Operator.Word),
            (r"[,;:=|]", Punctuation),
            (r"[^\s,;:=|]+|[ \t]+", Text),
        ],
        "step": [
            include("comment"),
            (r"\[", Punctuation, "reference"),
            (r"(?:(?![ \t]//)[^\n\[])+|[ \t]", Text),
            default("#pop"),
        ],
        "reference": [
            (r"\]", Punctuation, "#pop"),
            (r"(?<=\[)[ \t]*(?:the[ \t]+)?rest[ \t]+of(?=[ \t])|per[ \t]+portion(?=[ \t]*\])", Operator.Word),
            include("amount"),
            (r"[^\s\[\]]+", Name.Variable),
            (r"[ \t\[]+", Text),
            default("#pop"),
        ],
        "ingredient": [
            include("comment"),
            (rf"or(?=[ \t]+(?:{NUMBER}|#|to[ \t]+taste))|(?:to[ \t]+taste|by[ \t]+weight){WORD_END}", Operator.Word),
            (rf"(?<=\s){NUMBERED_NAME}{NAME_REST}", Name.Variable),
            include("amount"),
            (_NAME, Name.Variable),
            (r",", Punctuation, "notes"),
            (r"[=|]", Punctuation),
            (r"[^\n]", Text),
            default("#pop"),
        ],
        "notes": [
            include("comment"),
            (rf"([ \t]*)({any_of(note_words())}){WORD_END}", _groups(Text, Operator.Word), "note"),
            default("note"),
        ],
        "note": [
            include("comment"),
            (r",", Punctuation, "#pop"),
            (rf"{NUMBER}[ \t]*%", Number),
            (r"(?:(?![ \t]//)[^\n,\d])+|[^\n,]", Text),
            default("#pop:3"),
        ],
    }  # fmt: skip
