"""What each token of a declaration is, by the grammar: keyword, number, unit, name. What names mean is left open here.

Tokens are the parser's own, so that colors can't drift from the notation. What stands behind the place where a broken
line can't be read any more, and free text, is searched for amounts only.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Final

from recipelang.editing.tokens import comments_in, parsed
from recipelang.model.name_occurrences import PART, Mention, mentions_in
from recipelang.syntax.build import read_step
from recipelang.syntax.driver import driver
from recipelang.syntax.forms import TYPED
from recipelang.syntax.highlighting import DATE, NUMBER, TEMPERATURE, TOOL_NUMBER, unit_pattern
from recipelang.syntax.keywords import fixed_words
from recipelang.syntax.split import STRAY, Declaration, fold
from recipelang.syntax.token import Token
from recipelang.syntax.tree import Body
from recipelang.text.record import Record

KEYWORD: Final = "keyword"
SMALL_WORD: Final = "operator"
"""Words and signs inside a line: `per`, `as served`, `=`."""
PROCESS: Final = "function"
"""What happens to food: `cook to`, `hold cold`."""
DIGITS: Final = "number"
UNIT: Final = "type"
VALUE: Final = "enumMember"
"""One of a fixed set: a component, an allergen, a program."""
NUTRIENT: Final = "property"
TEXT: Final = "string"
COMMENT: Final = "comment"
ALLOWANCE: Final = "decorator"
NAME: Final = ""
"""A name; what it means says how it is shown."""
PLAIN: Final = "plain"
"""Prose: not shown in any way."""

OF_TERMINALS: Final = {
    **dict.fromkeys(("AMOUNT", "UNIT", "NUMBER", "PERCENT", "HEAT", "TIME", "CREDIT", "AMOUNT_OF"), UNIT),
    "DATE": DIGITS,
    **dict.fromkeys(("NAME", "USED_NAME", "CREDITED_NAME", "PORTION_NAME", "SIZED_NAME", "YIELD_NAME"), NAME),
    "NUTRIENT": NUTRIENT,
    "TEXT": TEXT,
    "STEP": PLAIN,
    "PREPARATION": PLAIN,
    **dict.fromkeys(("ALLERGEN", "STATE", "PLACE", "COMPONENT", "METHOD", "GROUP", "GRADES"), VALUE),
    **dict.fromkeys(("MILK_FAT", "MILK_FLAVOR", "NONE_OF_THE_NINE", "NOTHING"), VALUE),
    **dict.fromkeys(("_COMMA", "_SEMICOLON", "_COLON"), PLAIN),
    **dict.fromkeys(("DASH", "_EQUALS", "_BAR"), SMALL_WORD),
}
"""What the grammar's terminals are that are no fixed words, and some that are; a test holds it to the grammar."""
_CHOICES: Final = frozenset(
    {"COURSE", "FOR", "PROCESS", "PROGRAM", "OFFERS", "TRAY", "PACKED_IN", "EVIDENCE", "NOT_TCS"}
)
"""Keywords whose text is one of a fixed set."""


class Shade(Record):
    """A stretch of a declaration's text, all in one line, and what it is. Offsets count in the text."""

    start: int
    end: int
    kind: str
    name: Mention | None = None
    is_sure: bool = True
    """Whether a name stands in a line that could be read: of another nobody knows what it will be."""
    is_critical: bool = False
    """Whether it says what a critical control point asks for."""


@lru_cache(maxsize=2048)
def shades(declaration: Declaration) -> tuple[Shade, ...]:
    """What a declaration consists of, in order, none over another. Prose and what can't be told is left out."""
    found = [Shade(start, end, COMMENT) for start, end in comments_in(declaration)]
    if declaration.kind != STRAY:
        header, body = declaration.header, parsed(declaration).body
        found = list(_allowances(declaration.text, found, body))
        found.append(Shade(header, header + len(declaration.kind), KEYWORD))
        found += [Shade(name.start, name.end, NAME, name) for name in mentions_in(body)]
        found += _Reading(declaration).shades()
    return tuple(_apart(declaration.text, found))


def _apart(text: str, found: Iterable[Shade]) -> Iterator[Shade]:
    """Shades in order of place; of two that touch the same text, the one that was found first. None goes over a line
    end."""
    taken = -1
    for shade in sorted(found, key=lambda one: (one.start, not one.is_sure)):
        if shade.start >= taken and shade.start < shade.end and "\n" not in text[shade.start : shade.end]:
            taken = shade.end
            yield shade


def _allowances(text: str, comments: list[Shade], body: Body) -> Iterator[Shade]:
    """Comments, with what they allow apart."""
    allowed = {one.start: one.rule for one in body.allowances}
    for comment in comments:
        rule = allowed.get(comment.start)
        said = text[comment.start : comment.end].casefold()
        if not rule or rule not in said:
            yield comment
            continue
        start, end = comment.start + said.index("allow"), comment.start + said.index(rule) + len(rule)
        yield from (comment._replace(end=start), Shade(start, end, ALLOWANCE), comment._replace(start=end))


class _Reading:
    """The tokens of one declaration on their way to shades."""

    def __init__(self, declaration: Declaration) -> None:
        self._text = declaration.text
        self._comments = dict(comments_in(declaration))
        self._parsed = parsed(declaration)
        self._is_first = True
        """Whether no keyword of the line has come yet."""
        self._keyword = ""
        self._is_critical = False

    def shades(self) -> Iterator[Shade]:
        body, tokens = self._parsed
        broken = {one.start: one.end for one in body.problems if one.rule == "syntax"}
        line_end = -1
        read = {}
        for token in tokens:
            if token.start_pos > line_end:
                self._is_first, self._keyword, self._is_critical = True, "", False
                line_end = self._text.find("\n", token.start_pos)
                line_end = len(self._text) if line_end == -1 else line_end
            read[line_end] = token.end_pos
            yield from self._shade(token)
        yield from self._unread(read, broken)

    def _unread(self, read: dict[int, int], broken: dict[int, int]) -> Iterator[Shade]:
        """Amounts behind the places where broken lines can't be read any more."""
        for at in broken:
            start = self._text.rfind("\n", 0, at) + 1
            stop = self._text.find("\n", at)
            stop = len(self._text) if stop == -1 else stop
            begin = max(start, read.get(stop, start))
            end = min((one for one in self._comments if start <= one < stop), default=stop)
            if start > 0:  # the header is no line that could be read
                yield from amounts(self._text[begin:end], begin)

    def _shade(self, token: Token) -> Iterator[Shade]:
        kind = kind_of(token.type)
        start, end = token.start_pos, token.end_pos
        if kind == KEYWORD:
            yield self._word(token)
        elif kind == UNIT:
            yield from _amount(token.value, start, token.type == "AMOUNT_OF")
        elif kind == NAME:
            yield Shade(start, end, NAME, Mention(start, end, fold(token.value), PART), is_sure=False)
        elif kind == TEXT:
            yield from self._free_text(token)
        elif token.type == "STEP":
            yield from _step(token)
        elif kind != PLAIN:
            yield Shade(start, end, kind)
        self._is_first = self._is_first and token.type in ("OR", "CCP")

    def _word(self, token: Token) -> Shade:
        shade = Shade(token.start_pos, token.end_pos, SMALL_WORD)
        if not self._is_first or token.type == "OR":
            return shade
        self._keyword = token.type
        self._is_critical = self._is_critical or token.type == "CCP"
        if token.type in _processes():
            return shade._replace(kind=PROCESS, is_critical=self._is_critical)
        return shade._replace(kind=KEYWORD)

    def _free_text(self, token: Token) -> Iterator[Shade]:
        if self._keyword == "CHANGE":
            yield from self._changed(token)
            return
        kind = VALUE if self._keyword in _CHOICES else TEXT
        at = 0
        found = [*amounts(token.value, token.start_pos)]
        for one in [*found, None]:
            stop = len(token.value) if one is None else one.start - token.start_pos
            for match in _PHRASE.finditer(token.value, at, stop):
                yield Shade(token.start_pos + match.start(), token.start_pos + match.end(), kind)
            at = stop if one is None else one.end - token.start_pos
        yield from found

    def _changed(self, token: Token) -> Iterator[Shade]:
        """A recipe's line in a variation: read as the recipe's."""
        tokens: list[Token] = []
        driver().read_lines(f"\n{' ' * (token.start_pos - 1)}{token.value}\n", "recipe_body", tokens)
        self._is_first, self._keyword = True, ""
        for one in tokens:
            if one.type != "_NL":
                yield from self._shade(one)
        if not tokens[1:-1]:
            yield from amounts(token.value, token.start_pos)


_PHRASE: Final = re.compile(r"[^\s,;:](?:[^,;:]*[^\s,;:])?")
_NUMBERS: Final = re.compile(rf"{DATE}|{TOOL_NUMBER}|{NUMBER}")
_AMOUNTS: Final = re.compile(
    rf'(?P<text>"[^"\n]*")|(?<![\w/.-])(?P<number>{DATE}|{TOOL_NUMBER}|{NUMBER})'
    rf"(?:[ \t]*(?P<unit>%|{TEMPERATURE}|{unit_pattern()})|(?![\w/-]))",
    re.IGNORECASE,
)
"""Amounts and quoted text in text of any kind."""


def kind_of(terminal: str) -> str:
    """What a terminal of the grammar is. Raises KeyError for one that nobody has thought of."""
    found = OF_TERMINALS.get(terminal)
    if found is None and terminal not in fixed_words():
        raise KeyError(terminal)
    return KEYWORD if found is None else found


@lru_cache(maxsize=1)
def _processes() -> frozenset[str]:
    """The terminals of the words that begin a process line."""
    begins = {word for phrase in TYPED for word in (phrase, phrase.partition(" ")[0])}
    return frozenset(name for name, words in fixed_words().items() if name[0] != "_" and begins & {*words})


def amounts(text: str, at: int) -> Iterator[Shade]:
    """Numbers with their units, and quoted text, in text that was not read; its offset is added."""
    for match in _AMOUNTS.finditer(text):
        for group, kind in (("text", TEXT), ("number", DIGITS), ("unit", UNIT)):
            if match[group]:
                yield Shade(at + match.start(group), at + match.end(group), kind)


def _amount(text: str, at: int, has_more: bool = False) -> Iterator[Shade]:
    """The numbers of an amount, and between them its units; with `has_more`, a phrase behind the first unit."""
    end = 0
    for match in [*_NUMBERS.finditer(text), None]:
        stop = len(text) if match is None else match.start()
        yield from _units(text, end, stop, at, has_more)
        if match is not None:
            yield Shade(at + match.start(), at + match.end(), DIGITS)
            end = match.end()


def _units(text: str, start: int, stop: int, at: int, has_more: bool) -> Iterator[Shade]:
    said = text[start:stop]
    start += len(said) - len(said.lstrip())
    said = said.strip()
    if not said:
        return
    if has_more:
        word = said.split()[0]
        yield Shade(at + start, at + start + len(word), UNIT)
        rest = said[len(word) :].lstrip()
        yield Shade(at + start + len(said) - len(rest), at + start + len(said), NUTRIENT)
        return
    unit, to, _ = said.rpartition("to") if re.search(r"(?:^|\s)to$", said, re.IGNORECASE) else (said, "", "")
    if to:
        yield Shade(at + start + len(unit), at + start + len(said), SMALL_WORD)
    yield Shade(at + start, at + start + len(unit.rstrip()), UNIT)


def _step(token: Token) -> Iterator[Shade]:
    """The dash of a step and what stands in its brackets; the rest is prose."""
    step = read_step(token.value, token.start_pos)
    yield Shade(step.start, step.start + 1, SMALL_WORD)
    for one in step.references:
        name, amount = one.name, one.amount
        begin = one.start
        if amount is not None:
            yield from _amount(amount.text, amount.start)
            begin = amount.end
        for start, end in ((begin, name.start), (name.end, one.end)):
            said = token.value[start - token.start_pos : end - token.start_pos]
            start += len(said) - len(said.lstrip())
            yield Shade(start, start + len(said.strip()), SMALL_WORD)
        if name.text:
            yield Shade(name.start, name.end, NAME, Mention(name.start, name.end, fold(name.text), PART), is_sure=False)
