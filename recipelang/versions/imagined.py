"""What if a line said something else: the text that a hand would write, made without writing it.

`NAME: line; line`: a line takes the place of the lines of the same subject in the declaration, else it is added. Every line
is read by the notation's own parser first, in the place where it is put.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.model.name_occurrences import mentions_in
from recipelang.model.names import SPACES, Ref
from recipelang.model.vocabulary import NUTRIENTS
from recipelang.pantry import pantry
from recipelang.syntax import tree
from recipelang.syntax.forms import FORMS, first_words
from recipelang.syntax.parser import parse
from recipelang.syntax.split import KINDS, STRAY, Declaration, fold, split, without_comment
from recipelang.syntax.statements import Statement, subject_of
from recipelang.text.record import Record
from recipelang.versions.inventory import Held, Inventory
from recipelang.versions.sources import Version

IMAGINED: Final = "imagined.recipe"
"""The file of pantry foods of which something is imagined: they stand in none of the library."""
_BLOCKS: Final = frozenset({"ingredients", "steps", "leftovers"})
_PARTS: Final = re.compile(r'((?:"[^"]*"|[^;"])+)')
_USE: Final = re.compile(r"(.+?)\s+instead\s+of\s+(.+)", re.IGNORECASE)

_FIELD, _NUTRIENT, _INGREDIENT, _STEP = "field", "nutrient", "ingredient", "step"
_CONTEXTS: Final[dict[str, tuple[tuple[str, str], ...]]] = {
    "food": ((_FIELD, "    {}"), (_NUTRIENT, "    nutrition per 100 g\n        {}")),
    "recipe": (
        (_FIELD, "    {}"),
        (_INGREDIENT, "    ingredients\n        {}"),
        (_STEP, "    steps\n        {}"),
    ),
}
"""Where a line of a kind of declaration may stand, and the least text around it there."""


class CantImagine(ValueError):
    """Says in one sentence why something can't be imagined."""


class Edited(Record):
    """Files as they would be, by path, and the declarations that say something else in them."""

    texts: dict[str, str]
    refs: frozenset[Ref]


# ---- lines -----------------------------------------------------------------------------------------------------------


def with_lines(version: Version, texts: dict[str, str], asked: str) -> Edited:
    """The files of a version, as far as they are edited already, with `NAME: line; line` in them."""
    ref, name, rest = _named(version.inventory, asked)
    lines = [part.strip() for part in _PARTS.findall(rest) if part.strip()]
    if not lines:
        raise CantImagine(
            f"`{asked}` says nothing of {name}; write it like `{name}: contains milk, soy; sodium 280 mg`"
        )
    path, text, declaration = _declared(version, texts, ref)
    edited = declaration.text
    for line in lines:
        again = _only(edited)
        edited = _edited(again, name, line)
    return Edited({**texts, path: _replaced(text, declaration, edited)}, frozenset({ref}))


def _named(inventory: Inventory, asked: str) -> tuple[Ref, str, str]:
    """The declaration that an imagined text begins with; a name may hold a colon of its own."""
    at = asked.find(":")
    if at == -1:
        raise CantImagine(
            f"`{asked}` names nothing; write a name, a colon, and the lines: `whipped ricotta: contains milk, soy`"
        )
    while at != -1:
        name = asked[:at].strip()
        ref = found_ref(inventory, name)
        if ref is not None:
            return ref, name, asked[at + 1 :]
        at = asked.find(":", at + 1)
    raise nothing_called(inventory, asked.partition(":")[0].strip())


def found_ref(inventory: Inventory, name: str) -> Ref | None:
    """What a name means: a food or recipe before a container, a menu or a calendar, the library before the pantry."""
    key = fold(name)
    for ref in (key, *(space + key for space in SPACES.values())):
        if ref in inventory.held:
            return ref
    return key if pantry().declared(key) is not None else None


def nothing_called(inventory: Inventory, name: str) -> CantImagine:
    """That nothing has a name, with the nearest that something has."""
    names = {_key(ref) for ref in inventory.held} | {*pantry().refs()}
    near = nearest(fold(name), names, 1)
    return CantImagine(f"nothing is called `{name}`{f'; did you mean `{near[0]}`?' if near else ''}")


def _key(ref: Ref) -> str:
    return next((ref[len(space) :] for space in SPACES.values() if ref.startswith(space)), ref)


def _declared(version: Version, texts: dict[str, str], ref: Ref) -> tuple[str, str, Declaration]:
    """The file that holds a declaration, its text, and the declaration in it. A food of the pantry is copied first."""
    held = version.inventory.held.get(ref)
    if held is None:
        text = texts.get(IMAGINED, "")
        known = [one for one in split(text) if one.key == ref]
        if not known:
            home = pantry().declared(ref)
            assert home is not None
            copied = pantry().declaration(home.home)
            assert copied is not None
            text += copied.text.rstrip("\n") + "\n\n"
            known = [one for one in split(text) if one.key == ref]
        return IMAGINED, text, known[0]
    if len(held) > 1:
        raise CantImagine(f"several declarations are called `{held[0].piece.name}`; which is meant can't be told")
    return _in_file(version, texts, held[0])


def _in_file(version: Version, texts: dict[str, str], held: Held) -> tuple[str, str, Declaration]:
    text = texts.get(held.path)
    if text is None:
        text = version.inventory.files[held.path].text
    key, kind = fold(held.piece.name), held.piece.kind
    found = [one for one in split(text) if (one.key, one.kind) == (key, kind)]
    return held.path, text, found[0]


def _replaced(text: str, old: Declaration, new: str) -> str:
    return text[: old.start] + new + text[old.start + len(old.text) :]


def _only(text: str) -> Declaration:
    return next(one for one in split(text) if one.kind != STRAY)


# ---- one line --------------------------------------------------------------------------------------------------------


def _edited(declaration: Declaration, name: str, line: str) -> str:
    """A declaration's text with one line put into it."""
    if "\n" in line:
        raise CantImagine("an imagined line is one line; part several with `;`")
    role = _role(declaration.kind, line)
    lines = list(_statements(declaration))
    if role == _INGREDIENT:
        return _with_ingredient(declaration, line)
    if role == _STEP:
        return _put(declaration.text, _after_block(declaration, lines, "steps", name), 8, line)
    nutrition = next((at for at, one in enumerate(lines) if one.subject == "nutrition"), None)
    if role == _NUTRIENT:
        if nutrition is None:
            raise CantImagine(
                f"{name} has no `nutrition` line to put `{line}` under; imagine `nutrition per 100 g` before it"
            )
        inside = [one for one in lines[nutrition + 1 :] if one.subject.startswith("nutrient ")]
        return _with_statement(declaration, inside, line, (inside or [lines[nutrition]])[-1].end, 8)
    fields = list(_fields(declaration.kind, lines))
    if declaration.kind == "food" and nutrition is not None:
        above = lines[nutrition - 1].end if nutrition else _header_end(declaration)
        return _with_statement(
            declaration, [one for one in lines if not one.subject.startswith("nutrient ")], line, above, 4
        )
    return _with_statement(declaration, fields, line, fields[-1].end if fields else _header_end(declaration), 4)


def _role(kind: str, line: str) -> str:
    """What a line is in a declaration of this kind. Raises CantImagine with the notation's own sentence."""
    why = ""
    for role, around in _CONTEXTS.get(kind, ((_FIELD, "    {}"),)):
        (declaration,) = split(f"{kind} x\n{around.format(line)}\n")[:1]
        problems = parse(declaration).problems
        if role == _NUTRIENT and not problems and _is_of_another_kind(line):
            break
        if not problems:
            return role
        if not why or problems[0].rule == "syntax":
            why = problems[0].message
    raise CantImagine(f"`{line}`: {why}")


def _is_of_another_kind(line: str) -> bool:
    """Whether a line that could be a nutrient nobody knows begins as a line of a recipe or container does."""
    nutrient = subject_of("food", line).removeprefix("nutrient ")
    return nutrient not in NUTRIENTS and any(first_words(kind, line) for kind in FORMS if kind != "food")


def _statements(declaration: Declaration) -> Iterator[Statement]:
    """The lines of a declaration as it is written, without their remarks."""
    text = declaration.text
    at = text.find("\n", declaration.header) + 1
    while 0 < at < len(text):
        end = text.find("\n", at)
        end = len(text) if end == -1 else end
        line = without_comment(text[at:end])
        words = line.strip()
        if words:
            start = at + len(line) - len(line.lstrip())
            yield Statement(subject_of(declaration.kind, words), words, start, start + len(words))
        at = end + 1


def _fields(kind: str, lines: Iterable[Statement]) -> Iterator[Statement]:
    """The lines above a recipe's blocks, and above a menu's days."""
    for one in lines:
        if kind == "recipe" and one.subject in _BLOCKS:
            return
        if kind == "menu" and (one.subject.endswith("day") or one.subject == "choose"):
            return
        yield one


def _with_statement(declaration: Declaration, among: list[Statement], line: str, behind: int, indent: int) -> str:
    """A line in the place of those of its subject, else behind those that begin alike, else behind another."""
    subject = subject_of(declaration.kind, line)
    same = [one for one in among if one.subject == subject]
    text = declaration.text
    if not same:
        alike = [one for one in among if one.subject.partition(" ")[0] == subject.partition(" ")[0]]
        return _put(text, alike[-1].end if alike and indent == 4 else behind, indent, line)
    for one in reversed(same[1:]):
        start = text.rfind("\n", 0, one.start)
        end = text.find("\n", one.end)
        text = text[:start] + (text[end:] if end != -1 else "\n")
    return text[: same[0].start] + line + text[same[0].end :]


def _with_ingredient(declaration: Declaration, line: str) -> str:
    """An ingredient line in the place of that of the same food, else behind the last."""
    (probe,) = split(f"recipe x\n    ingredients\n        {line}\n")
    wanted = fold(_ingredients(probe)[0].name.text)
    own = _ingredients(declaration)
    same = [one for one in own if fold(one.name.text) == wanted]
    if same:
        start, end = same[0].start, same[0].end
        return declaration.text[:start] + line + declaration.text[end:]
    if own:
        return _put(declaration.text, own[-1].end, 8, line)
    lines = list(_statements(declaration))
    return _put(declaration.text, _after_block(declaration, lines, "ingredients", declaration.name), 8, line)


def _ingredients(declaration: Declaration) -> list[tree.Ingredient]:
    return [one for block in parse(declaration).lines if isinstance(block, tree.Ingredients) for one in block.lines]


def _after_block(declaration: Declaration, lines: list[Statement], block: str, name: str) -> int:
    """Where a block of a recipe ends."""
    inside = False
    end = -1
    for one in lines:
        if one.subject in _BLOCKS:
            inside = one.subject == block
        if inside:
            end = one.end
    if end == -1:
        raise CantImagine(f"{name} has no `{block}` to put the line under")
    return end


def _header_end(declaration: Declaration) -> int:
    end = declaration.text.find("\n", declaration.header)
    return len(declaration.text) if end == -1 else end


def _put(text: str, behind: int, indent: int, line: str) -> str:
    """A line of its own behind the one that an offset is in."""
    end = text.find("\n", behind)
    if end == -1:
        return f"{text}\n{' ' * indent}{line}\n"
    return f"{text[: end + 1]}{' ' * indent}{line}\n{text[end + 1 :]}"


# ---- names -----------------------------------------------------------------------------------------------------------


class Swap(Record):
    """`X instead of Y`: what is used, and in whose place, as they are written."""

    new: str
    old: str


def swap_of(inventory: Inventory, asked: str) -> Swap:
    """What `X instead of Y` asks for. Raises CantImagine."""
    match = _USE.fullmatch(asked.strip())
    if match is None:
        raise CantImagine(f"`{asked}`: write it like `wheat bun B instead of wheat bun`")
    new, old = (" ".join(word.split()) for word in match.groups())
    for name in (new, old):
        if found_ref(inventory, name) is None:
            raise nothing_called(inventory, name)
    if fold(new) == fold(old):
        raise CantImagine(f"`{asked}` puts {old} in its own place")
    return Swap(new, old)


def with_swap(version: Version, texts: dict[str, str], swap: Swap, kinds: Collection[str] = KINDS) -> Edited:
    """The files of a version in which one name is used wherever another was, in declarations of some kinds. Raises
    CantImagine where none was."""
    old = found_ref(version.inventory, swap.old)
    new = found_ref(version.inventory, swap.new)
    assert old is not None
    touched: set[Ref] = set()
    made = dict(texts)
    for path in sorted({*version.inventory.files, *texts}):
        text = made.get(path)
        if text is None:
            text = version.inventory.files[path].text
        if _key(old).split()[0] not in text.casefold():
            continue
        for one in reversed(split(text)):
            if one.kind not in kinds:
                continue
            ref = SPACES.get(one.kind, "") + one.key
            edits = [
                (mention.start, mention.end)
                for mention in mentions_in(parse(one))
                if mention.space + mention.key == old and ref != new
            ]
            if edits:
                touched.add(ref)
                edited = one.text
                for start, end in sorted(set(edits), reverse=True):
                    edited = edited[:start] + swap.new + edited[end:]
                text = _replaced(text, one, edited)
                made[path] = text
    if not touched:
        raise CantImagine(f"nothing uses {swap.old}")
    return Edited(made, frozenset(touched))
