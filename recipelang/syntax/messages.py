"""Sentences for text the notation can't read: what is wrong, and how the line is written.

A sentence is chosen by the line's own words and where reading stopped, never by the parser's states: "expected NUMBER"
helps nobody.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.syntax.forms import BLOCKS, FORMS, IN_BLOCKS, TYPED, first_words
from recipelang.syntax.kitchen_lines import begins_with_a_verb
from recipelang.syntax.lalr import BrokenLine
from recipelang.syntax.misplaced import WRAPPED
from recipelang.syntax.said_otherwise import as_field, as_process_line, nearest_keyword, section
from recipelang.syntax.split import KINDS, Declaration, name_problem, without_comment
from recipelang.syntax.tree import Problem
from recipelang.text.digits import DIGIT, GLYPHS
from recipelang.units.amount import read_amount
from recipelang.units.numbers import shortened

_LEADING_AMOUNT: Final = re.compile(rf"-?[\d.{GLYPHS}#$]")
_FIRST_WORD: Final = re.compile(r"[^\s,;:]+")
_BRACKETS: Final = "()[]{}"
_AMOUNT_THEN_NAME: Final = re.compile(
    rf"(?P<amount>(?:\d[\d./ \t]*|[{GLYPHS}])[ \t]*(?:fl[ \t]*oz|oz|lbs?|g|kg|cups?|each|cans?)\b)[ \t]+(?P<name>[^,\n]+)",
    re.IGNORECASE,
)
_RANGE: Final = re.compile(
    rf"(?!\d+-\d+/\d)[\d./{GLYPHS}]+(?:[ \t]+to[ \t]+|[ \t]*[-–—][ \t]*){DIGIT}[\d./{GLYPHS}]*(?:[ \t]+(?:fl[ \t]*oz|[^\W\d_]+))?",
    re.IGNORECASE,
)
"""`2 to 3 lb`, `2-3 lb`; a mixed number such as `2-1/2` reads and never comes here."""


def stray(declaration: Declaration) -> Problem:
    """First-column text that begins no declaration."""
    text = declaration.text
    start = len(text) - len(text.lstrip())
    line = text[start:].split("\n", 1)[0].rstrip()
    end = start + len(line)
    if text[:1].isspace():
        return Problem(
            start, end, "syntax", "This indented line has no declaration above it.",
            help="put a line such as `food whipped ricotta` above it, beginning in the first column",
        )  # fmt: skip
    word = _FIRST_WORD.match(line)
    first = word[0] if word else line
    near = nearest(first.casefold(), KINDS, 1)
    if near:
        return Problem(
            start, start + len(first), "syntax", f"`{shortened(first)}` begins no declaration.", near[0],
            f"write `{near[0]}`",
        )  # fmt: skip
    if first_words("food", line) or first_words("recipe", line):
        return Problem(
            start, end, "syntax", f"`{shortened(line)}` begins in the first column, where declarations begin.",
            f"    {line}", "indent the line so that it belongs to the declaration above",
        )  # fmt: skip
    return Problem(
        start, end, "syntax", f"`{shortened(line)}` begins no declaration.",
        help="a line in the first column begins with food, container, recipe, variation, menu or calendar; "
        "a comment begins with `//`",
    )  # fmt: skip


def meant_as(declaration: Declaration) -> tuple[str, str] | None:
    """The kind and name of stray text that is a declaration with its keyword misspelled: what it is called is known, what
    it says is not."""
    line = declaration.text.lstrip().split("\n", 1)[0]
    word = _FIRST_WORD.match(line)
    near = nearest(word[0].casefold(), KINDS, 1) if word else []
    name = without_comment(line[word.end() :]).strip(" \t:") if word else ""
    return (near[0], name) if near and name and name_problem(name) is None else None


def bad_name(declaration: Declaration, wrong: str) -> Problem:
    """A header without a name, or with one that is none."""
    start, end = declaration.name_start, declaration.name_end
    if not declaration.name:
        start, end = declaration.header, declaration.header + len(declaration.kind)
        return Problem(
            start, end, "syntax", f"This {declaration.kind} has no name.",
            help=f"write its name on the same line: `{declaration.kind} …`",
        )  # fmt: skip
    size = _SIZE_FIRST.fullmatch(declaration.name)
    if size is not None:
        inches = size["unit"].casefold().startswith("in")
        better = (
            f"{size['number']}-inch {size['name']}" if inches else f"{size['name']} {size['number']} {size['unit']}"
        )
        return Problem(
            start, end, "syntax", f"`{shortened(declaration.name)}` can't be a name: it begins like an amount.", better,
            f"write `{declaration.kind} {better}`",
        )  # fmt: skip
    return Problem(
        start, end, "syntax", f"`{shortened(declaration.name)}` can't be a name: {wrong}.",
        help="use words and blanks only; put weights and notes in lines of their own",
    )  # fmt: skip


_SIZE_FIRST: Final = re.compile(
    r"(?P<number>\d+(?:\.\d+)?(?:[ -]\d/\d)?)[ \t-]*(?P<unit>fl oz|oz|inch|in\.?|cups?|lbs?|g|ml)[ \t]+(?P<name>[^\W\d_][^,;()\[\]{}=|\"]*)",
    re.IGNORECASE,
)
"""A name with its size in front: `12 oz clear cup`."""
_COLUMNS: Final = re.compile(
    r"(?:for[ \t]+)?\d+(?:(?:[ \t]*,[ \t]*|[ \t]+)(?:for[ \t]+)?\d+)*(?:[ \t]+(?:portions|servings))?", re.IGNORECASE
)
_WARM_THAW: Final = re.compile(r"(?:ccp[ \t]+)?thaw[ \t]+(?:at|on|overnight|out)\b", re.IGNORECASE)
"""What no food code lists as a way to thaw (FDA Food Code 3-501.13)."""
_PULSES: Final = re.compile(
    r"\bbeans,[ \t]*peas,?[ \t]*(?:(?:and|&)[ \t]+)?lentils\b(?:[ \t]+vegetables?\b)?", re.IGNORECASE
)
"""The subgroup as the regulation calls it (7 CFR 210.10(c)(2)(iii))."""
_PULSES_WRITTEN: Final = "beans peas lentils vegetable"
_NUMBERED: Final = re.compile(r"\d{1,2}[.)](?=[ \t]+[^\W\d_])")
_SENTENCE: Final = re.compile(r"[A-Z][^\W\d_]*(?![^\n]{0,9}[ \t](?:at|for|to|within|under|below|up)\b)(?:[ \t]+\S+){2}")
"""How a step begins that was written without its dash: three words, the first with a capital, that are no process line's."""


def lost_line(start: int, end: int, is_remark: bool) -> Problem:
    """What is said of a line that was not UTF-8."""
    what = (
        "remark is not UTF-8, and a character of it is lost."
        if is_remark
        else "line is not UTF-8, and a character of it is lost: what it says is unknown."
    )
    message = f"This {what}"
    help = "save the file as UTF-8; where a character is gone for good, write the line anew"
    return Problem(start, end, "unreadable-file", message, help=help)


def broken_line(kind: str, source: str, error: BrokenLine) -> tuple[Problem, str]:
    """The problem of a line that can't be read, and the line's first words, so that what it would have said is taken
    as unknown."""
    start, end = error.line_start, error.line_end
    line = source[start:end]
    words = first_words(kind, line)
    said = as_process_line(kind, source, start, end, words)
    if said is not None:
        return said, begins_with(kind, said.instead or said.help.split("`")[1])
    said = as_field(kind, source, start, end)
    if said is not None:
        return said, begins_with(kind, said.instead or said.help.split("`")[1])
    if not words:
        problem = _unknown_line(kind, source, start, end, error)
        return problem, begins_with(kind, problem.instead or line)
    form = _form(kind, words, line)
    at = min(max(error.at, start), end)
    rest = source[at:end]
    if rest[:1] and rest[0] in _BRACKETS:
        message = f"The `{words}` line has a bracket, which the notation keeps for references in steps."
        return Problem(at, at + 1, "syntax", message, help=f"write it like `{form}`"), words
    if kind == "recipe" and section(source, start) == "steps" and _SENTENCE.match(line):
        return _undashed(start, end, line), words
    if kind == "recipe" and words not in IN_BLOCKS and section(source, start) == "steps":
        return _wrapped(start, start + len(words), line), words
    if _WARM_THAW.match(line):
        message = "Food is thawed in the cold, in cold running water, while it cooks or in the microwave; not at room temperature."
        help = f"write `{'ccp ' if words == 'ccp' else ''}thaw cold`, or `{form}`"  # for the cook to choose
        return Problem(start, end, "syntax", message, help=help), words
    pulses = _PULSES.search(line)
    if pulses is not None and words in ("credits", "credit"):
        message = "A comma ends a component here, so this one is written without."
        first, last = start + pulses.start(), start + pulses.end()
        return Problem(first, last, "syntax", message, _PULSES_WRITTEN, f"write `{_PULSES_WRITTEN}`"), words
    if words == "ingredients" and _COLUMNS.fullmatch(rest):
        meant = f"ingredients for {', '.join(re.findall(r'[0-9]+', rest))}"
        message = "Columns of amounts are opened by how many portions each is for."
        return Problem(start, end, "syntax", message, meant, f"write `{meant}`"), words
    wrong = _amount_problem(source, at, end)
    if wrong is not None:
        return wrong, words
    if not rest.strip():
        message = f"The `{words}` line ends too soon."
        return Problem(start, end, "syntax", message, help=f"write it like `{form}`"), words
    message = f"The `{words}` line can't be read from `{shortened(rest.strip())}` on."
    return Problem(at, end, "syntax", message, help=f"write it like `{form}`"), words


def _form(kind: str, words: str, line: str) -> str:
    """How a line of these first words is written; of one that begins with `ccp` the words after it say which."""
    head, _, rest = line.partition(" ")
    inner = first_words(kind, rest.lstrip()) if head.casefold() == "ccp" else ""
    return f"ccp {FORMS[kind][inner]}" if inner in TYPED else FORMS[kind][words]


def begins_with(kind: str, line: str) -> str:
    """The keyword that a line begins with, else its first word."""
    return first_words(kind, line) or _first(line)


def _amount_problem(source: str, at: int, end: int) -> Problem | None:
    """An amount that reads badly where an amount or a name should stand."""
    match = re.match(rf"-?\$?[\d.,/{GLYPHS}]+(?:[ \t]+\d+/\d+)?[ \t]*[^\W\d_#]*#?", source[at:end])
    if match is None:
        return None
    reading = read_amount(match[0].rstrip(" ,"))
    if reading.problem is None or reading.problem.instead is None:
        return None
    problem = reading.problem
    return Problem(
        at, at + len(match[0].rstrip(" ,")), problem.rule, problem.sentence, problem.instead, problem.help,
    )  # fmt: skip


def _unknown_line(kind: str, source: str, start: int, end: int, error: BrokenLine) -> Problem:
    line = source[start:end]
    first = _first(line)
    block = section(source, start) if kind == "recipe" else ""
    numbered = _NUMBERED.match(line)
    if numbered and kind in ("recipe", "variation"):
        return Problem(
            start, start + len(numbered[0]), "syntax", "A step begins with a dash, not with its number.", "-",
            f"write `-` instead of `{numbered[0]}`; steps are done in the order they stand in",
        )  # fmt: skip
    if _LEADING_AMOUNT.match(line) and kind in ("recipe", "variation"):
        return _broken_ingredient(line, start, end, error)
    if line.startswith(("-", "–", "—", "*", "•")) and kind in ("recipe", "variation"):
        return Problem(
            start, end, "syntax", "A step begins with a dash and a blank.", "- " + line[1:].lstrip(), "write `- ` first"
        )
    if kind == "recipe" and block != "steps" and re.search(r"\bto[ \t]+taste\b", line, re.IGNORECASE):
        name = re.sub(r",?[ \t]*\bto[ \t]+taste\b", "", line, flags=re.IGNORECASE).strip()
        return Problem(
            start, end, "syntax", "`to taste` is where the amount would be.", f"to taste {name}",
            f"write `to taste {name}`",
        )  # fmt: skip
    slip = _slip_of_pen(kind, line, first, start, end)
    if slip is not None:
        return slip
    near = nearest_keyword(kind, line)
    if near is not None and near[1] in TYPED and begins_with_a_verb(line) and near[1].split()[0] != first.casefold():
        near = None  # to work at room temperature is not to cook
    is_header = near is not None and near[1] in BLOCKS and line.rstrip(" \t:") == near[0]
    if near is not None and (is_header or block != "steps" or near[1] in TYPED):
        wrong, right = near
        return Problem(
            start, start + len(wrong), "syntax", f"`{wrong}` is not a line of a {kind}.", right, f"write `{right}`"
        )
    form = next((form for form in FORMS[kind].values() if form.split()[0] == first.casefold()), None)
    if form is not None:
        return Problem(
            start,
            end,
            "syntax",
            f"`{shortened(line)}` is not how this line is written.",
            help=f"write it like `{form}`",
        )
    if block == "steps":
        return _undashed(start, end, line) if _SENTENCE.match(line) else _wrapped(start, end, line)
    if block == "ingredients":
        return Problem(
            start, end, "syntax", f"`{shortened(line)}` has no amount.",
            help=f"begin the line with the amount, as in `12 lb {shortened(line)}`, or with `to taste`",
        )  # fmt: skip
    examples = ", ".join(f"`{word}`" for word in list(FORMS[kind])[:4])
    return Problem(
        start, start + len(first), "syntax", f"`{shortened(first)}` is not a line of a {kind}.",
        help=f"lines of a {kind} begin with words such as {examples}",
    )  # fmt: skip


def _slip_of_pen(kind: str, line: str, first: str, start: int, end: int) -> Problem | None:
    """A field whose value says only what it is less than, or whose first word has grown together with it."""
    less = re.match(
        r"(?P<name>[^\W\d_][^<\d]*?)[ \t]*(?:<|less[ \t]+than)[ \t]*(?P<amount>[\d.]+[ \t]*[^\W\d_]*)$", line
    )
    if less and kind == "food":
        return Problem(
            start, end, "syntax", f"`{shortened(line)}` says only what it is less than; what is not exact is unknown.",
            help=f"leave the line out, or write the most it may be: `{less['name']} {less['amount']}`",
        )  # fmt: skip
    glued = re.match(r"([^\W\d_]+)(\d)", first)
    if glued and glued[1].casefold() in FORMS[kind]:
        parted = f"{glued[1]} {first[len(glued[1]) :]}"
        return Problem(
            start, start + len(first), "syntax", f"`{first}` needs a blank after `{glued[1]}`.", parted,
            f"write `{parted}`",
        )  # fmt: skip
    return None


def _broken_ingredient(line: str, start: int, end: int, error: BrokenLine) -> Problem:
    at = min(max(error.at, start), end)
    rest = line[at - start :]
    if rest[:1] and rest[0] in _BRACKETS:
        return Problem(
            at, end, "syntax", "Brackets have no place in an ingredient line.",
            help="put the note after a comma, as in `12 lb canned apricots drained, two cans`",
        )  # fmt: skip
    between = _RANGE.match(line)
    if between:
        return Problem(
            start, start + len(between[0]), "syntax", f"`{between[0]}` is a range; an ingredient has one amount.",
            help="write the amount that the recipe was tested with; ranges stand in times and oven temperatures only",
        )  # fmt: skip
    nested = _AMOUNT_THEN_NAME.match(rest)
    if nested and at > start:
        before = line[: at - start].strip()
        return Problem(
            at, at + len(nested["amount"]), "syntax",
            f"`{before}` and `{nested['amount'].strip()}` are two amounts; they don't add up to one.",
            help=f"write one amount, and name the food without its size: `{before} {nested['name'].strip()}` "
            f"with `each weighs {nested['amount'].strip()}` in that food",
        )  # fmt: skip
    number = re.match(rf"[\d./{GLYPHS} \t-]+", line)
    reading = read_amount(line.split(",")[0].strip())
    if reading.problem is not None and reading.problem.instead is not None:
        return Problem(start, end, reading.problem.rule, reading.problem.sentence, help=reading.problem.help)
    if not rest.strip(" \t,") or rest.startswith(","):
        return Problem(
            start, at if at > start else end, "syntax", f"`{shortened(line.strip())}` has an amount and no name.",
            help="write what it is an amount of, as in `6 lb 4 oz whipped ricotta`",
        )  # fmt: skip
    if number and at == start:
        return Problem(
            start, start + len(number[0].rstrip()), "syntax", f"`{number[0].strip()}` has no unit.",
            help="write `each` for things that are counted, as in `50 each graham square`",
        )  # fmt: skip
    return Problem(
        at, end, "syntax", f"The ingredient can't be read from `{shortened(rest.strip())}` on.",
        help="write amount, name, then notes after commas: `12 lb = 6 qt 1 cup canned apricots drained, called fruit`",
    )  # fmt: skip


def _first(line: str) -> str:
    match = _FIRST_WORD.match(line)
    return match[0] if match else line


def _undashed(start: int, end: int, line: str) -> Problem:
    return Problem(
        start, end, "syntax", "A step begins with a dash and a blank, and is one line.", "- " + line,
        f"write `- {shortened(line)}`, or move the words to the end of the step above",
    )  # fmt: skip


def _wrapped(start: int, end: int, line: str) -> Problem:
    return Problem(
        start, end, "syntax", WRAPPED,
        help=f"move `{shortened(line)}` to the end of the step above",
    )  # fmt: skip
