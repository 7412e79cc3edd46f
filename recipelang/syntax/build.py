"""The grammar's reductions to nodes of the tree, while it is read: no other tree is ever made.

One method per line form of the grammar, named as the grammar's alias. The loop over the tables hands each method the tokens and nodes of
its line in order, keywords that begin with an underscore left out and absent options as None.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, Final

from recipelang.syntax import tree
from recipelang.syntax.kitchen_lines import way_to_thaw
from recipelang.syntax.token import Token
from recipelang.syntax.tree import NO_NOTES, Cell, Notes, Word
from recipelang.text.digits import LETTER, NUMBER
from recipelang.text.utensils import UTENSIL_PATTERN

Children = Sequence[Any]

_REFERENCE: Final = re.compile(r"\[([^\[\]\n]*)\]")
REST_OF: Final = re.compile(r"(?:the[ \t]+)?rest[ \t]+of[ \t]+", re.IGNORECASE)
# a blank is looked for behind, not before: a pattern that begins with blanks is quadratic in a long run of them
_PER_PORTION: Final = re.compile(r"(?<=[ \t])per[ \t]+portion[ \t]*$", re.IGNORECASE)
_OF: Final = re.compile(r"(?<=[ \t])of$", re.IGNORECASE)
REFERENCE_AMOUNT: Final = re.compile(
    r"(?![5-9]\d/\d{1,2}(?!\d))"  # `80/20 ground beef` begins a name
    rf"{NUMBER}[ \t]*"
    rf"(?:fl\.?[ \t]*oz|(?:#|no\.?[ \t]*)\d+[ \t]+(?:scoop|can)s?|\d+[ \t]*oz[ \t]+{UTENSIL_PATTERN}|"
    rf"{LETTER}+\.?)"
    rf"(?:[ \t]+{NUMBER}[ \t]*(?:oz|cups?|qts?|pts?|tbsps?|tsps?|fl[ \t]*oz|g)\b)*"
    r"(?=[ \t]+(?:of[ \t]+)?\S)(?:[ \t]+of(?=[ \t]))?",
    re.IGNORECASE,
)


def word(token: Token) -> Word:
    return Word(token.value, token.start_pos)


def optional(token: Token | None) -> Word | None:
    return None if token is None else Word(token.value, token.start_pos)


def _ends(children: Sequence[Any]) -> tuple[int, int]:
    """Where a line begins and ends, by its first and last token or node."""
    first = children[0]
    start = first.start_pos if isinstance(first, Token) else _start_of(first)
    end = start
    for child in reversed(children):
        if isinstance(child, Token):
            end = child.end_pos
            break
        if child is not None:
            end = _end_of(child)
            break
    return start, end


def _start_of(node: Any) -> int:
    if isinstance(node, Word | tree.ProcessLine):
        return node.start
    if isinstance(node, Cell):
        return node.amount.start
    return next(_start_of(part) for part in node if isinstance(part, tuple))


def _end_of(node: Any) -> int:
    """The end of a node that is no line: the furthest of its words."""
    if isinstance(node, Word):
        return node.start + len(node.text)
    ends = [_end_of(part) for part in node if isinstance(part, tuple)]
    return max(ends) if ends else 0


def _phrase(token: Token) -> str:
    """A keyword in small letters, its blanks folded."""
    return " ".join(token.value.casefold().split())


class Note:
    """One note after a comma on its way into the line: which field, its value, and the tokens that say it."""

    __slots__ = ("end", "extra", "field", "start", "value")

    def __init__(self, field: str, value: Any, said: Children, extra: Any = None) -> None:
        self.field = field
        self.value = value
        self.extra = extra
        self.start: int = said[0].start_pos
        self.end: int = next(token.end_pos for token in reversed(said) if token is not None)


def notes_of(parts: Sequence[Note]) -> Notes:
    """What stands after the commas of an ingredient, gathered."""
    if not parts:
        return NO_NOTES
    fields: dict[str, Any] = {}
    preparation: list[Word] = []
    for part in parts:
        if part.field == "preparation":
            preparation.append(part.value)
        elif part.field == "on_the_side":
            fields["on_the_side"], fields["side_container"] = part.value, part.extra
        else:
            fields[part.field] = part.value
    return Notes(preparation=tuple(preparation), repeated=_repeated(parts), **fields)


_MAY_REPEAT: Final = frozenset({"preparation", "optional", "not_credited", "leftover"})
"""Notes that say nothing else the second time."""


def _repeated(parts: Sequence[Note]) -> tuple[tree.Repeated, ...]:
    """The notes of a kind that stood before."""
    if len(parts) < 2:
        return ()
    first: dict[str, Note] = {}
    found: list[tree.Repeated] = []
    for part in parts:
        known = first.setdefault(part.field, part)
        if known is not part and part.field not in _MAY_REPEAT:
            found.append(tree.Repeated(part.start, part.end, part.field, tree.Stretch(known.start, known.end)))
    return tuple(found)


class Builder:
    """Callbacks of the grammar's line forms."""

    def lines(self, c: Children) -> Children:
        return c

    food_body = container_body = recipe_body = variation_body = menu_body = calendar_body = lines

    # ---- shared ----

    def fact(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), _phrase(c[0]))

    def usda_foods(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), "usda foods", optional(c[1]))

    def imported(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), "imported", optional(c[1]))

    def not_tcs(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), "not tcs", optional(c[1]))

    def untreated(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), "juice", word(c[1]))

    def detailed_fact(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), _phrase(c[0]), word(c[1]))

    item = no_date_mark = packed_in = sold_as = detailed_fact

    def field(self, c: Children) -> tree.Field:
        return tree.Field(*_ends(c), _phrase(c[0]), word(c[1]))

    numbered = course = audience = process = serve_with = pans = offers = program = site = evidence = field

    def price(self, c: Children) -> tree.Price:
        return tree.Price(*_ends(c), word(c[1]), word(c[2]) if len(c) > 2 else None)

    def weighs(self, c: Children) -> tree.Weighs:
        return tree.Weighs(*_ends(c), word(c[1]), word(c[2]), optional(c[3]))

    def each_weighs(self, c: Children) -> tree.Weighs:
        return tree.Weighs(*_ends(c), word(c[1]), None, optional(c[2]))

    def keeping(self, c: Children) -> tree.Keeping | None:
        return tree.Keeping(word(c[0]), word(c[1])) if len(c) == 2 else None

    def keeps(self, c: Children) -> tree.Keeps:
        items = tuple(item for item in c[1:] if item is not None)
        start, end = _ends([c[0], *items])
        return tree.Keeps(start, end, items, len(items) < len(c) - 1)

    def allergen(self, c: Children) -> tree.Allergen:
        return tree.Allergen(word(c[0]), optional(c[1]))

    def contains(self, c: Children) -> tree.Allergens:
        return tree.Allergens(*_ends(c), _phrase(c[0]), tuple(c[1:]))

    made_without = contains

    def contains_none(self, c: Children) -> tree.Allergens:
        return tree.Allergens(*_ends(c), "contains", ())

    def credits_nothing(self, c: Children) -> tree.CreditsNothing:
        return tree.CreditsNothing(*_ends(c))

    # ---- food ----

    def pack(self, c: Children) -> tree.Pack:
        return tree.Pack(*_ends(c), tuple(map(word, c[1:])))

    def acidity(self, c: Children) -> tree.Acidity:
        ph: Word | None = None
        activity: Word | None = None
        for keyword, number in zip(c[::2], c[1::2], strict=False):
            if keyword is not None and keyword.type == "PH":
                ph = word(number)
            elif keyword is not None:
                activity = word(number)
        return tree.Acidity(*_ends(c), ph, activity)

    def milk(self, c: Children) -> tree.Milk:
        return tree.Milk(*_ends(c), word(c[1]), word(c[2]) if len(c) > 2 else None)

    def caffeine(self, c: Children) -> tree.Caffeine:
        return tree.Caffeine(*_ends(c), word(c[1]), word(c[2]))

    def also_called(self, c: Children) -> tree.AlsoCalled:
        return tree.AlsoCalled(*_ends(c), tuple(map(word, c[1:])))

    def label_read(self, c: Children) -> tree.LabelRead:
        return tree.LabelRead(*_ends(c), word(c[1]))

    def arrives(self, c: Children) -> tree.Arrives:
        return tree.Arrives(*_ends(c), word(c[1]), c[2] is not None)

    def credit_clause(self, c: Children) -> Token:
        return c[0]  # type: ignore[no-any-return]

    def food_credit(self, c: Children) -> tree.FoodCredit:
        amount, component = word(c[1]), word(c[2])
        per: Word | None = None
        basis = liquid = served = ""
        condition: Word | None = None
        for token in c[3:]:
            if token is None:
                continue
            if token.type in ("AMOUNT", "UNIT"):
                per = word(token)
            elif token.type in ("AS_PURCHASED", "AS_SERVED"):
                basis = _phrase(token)
            elif token.type == "AMOUNT_OF":
                condition = word(token)
            elif token.type in ("RAW", "COOKED"):
                served = _phrase(token)
            else:
                liquid = _phrase(token)
        return tree.FoodCredit(
            *_ends(c),
            amount=amount,
            component=component,
            per=per,
            basis=basis,
            liquid=liquid,
            served=served,
            condition=condition,
        )

    def grain_group(self, c: Children) -> tree.GrainGroup:
        return tree.GrainGroup(*_ends(c), word(c[1]))

    def creditable_share(self, c: Children) -> tree.CreditableGrain:
        kind = next((_phrase(token) for token in c[2:] if token is not None), "")
        return tree.CreditableGrain(*_ends(c), word(c[1]), None, kind, None)

    def creditable_weight(self, c: Children) -> tree.CreditableGrain:
        whole = word(c[3]) if len(c) > 3 and c[3] is not None else None
        return tree.CreditableGrain(*_ends(c), word(c[1]), word(c[2]), "", whole)

    def other_share(self, c: Children) -> tree.OtherGrain:
        return tree.OtherGrain(*_ends(c), word(c[1]), None)

    def other_weight(self, c: Children) -> tree.OtherGrain:
        return tree.OtherGrain(*_ends(c), word(c[1]), word(c[2]))

    def edible_share(self, c: Children) -> tree.EdibleShare:
        return tree.EdibleShare(*_ends(c), word(c[0]), word(c[1]))

    def left_from(self, c: Children) -> tree.LeftFrom:
        return tree.LeftFrom(*_ends(c), word(c[1]), word(c[2]))

    def nutrition(self, c: Children) -> tree.Nutrition:
        return tree.Nutrition(*_ends(c), word(c[1]))

    def nutrient(self, c: Children) -> tree.Nutrient:
        return tree.Nutrient(*_ends(c), word(c[0]), word(c[1]))

    # ---- container ----

    def holds(self, c: Children) -> tree.Holds:
        return tree.Holds(*_ends(c), word(c[1]))

    def headspace(self, c: Children) -> tree.Headspace:
        return tree.Headspace(*_ends(c), word(c[1]))

    def fits(self, c: Children) -> tree.Fits:
        return tree.Fits(*_ends(c), word(c[1]), word(c[2]))

    # ---- recipe ----

    def portion(self, c: Children) -> tree.PortionPart:
        return tree.PortionPart(word(c[0]), optional(c[1]))

    def makes(self, c: Children) -> tree.Makes:
        return tree.Makes(*_ends(c), word(c[1]), tuple(part for part in c[2:] if part is not None))

    def packed_into(self, c: Children) -> tree.PackedInto:
        return tree.PackedInto(*_ends(c), word(c[1]))

    def credit(self, c: Children) -> tree.Credit:
        return tree.Credit(word(c[0]), word(c[1]))

    def claims(self, c: Children) -> tree.Claims:
        return tree.Claims(*_ends(c), tuple(c[1:]))

    def tested(self, c: Children) -> tree.Tested:
        return tree.Tested(*_ends(c), word(c[1]), optional(c[2]))

    def batch_limit(self, c: Children) -> tree.BatchLimit:
        return tree.BatchLimit(*_ends(c), word(c[1]))

    def yields(self, c: Children) -> tree.Yields:
        return tree.Yields(*_ends(c), word(c[1]), optional(c[2]))

    def loses(self, c: Children) -> tree.Loses:
        return tree.Loses(*_ends(c), word(c[1]), optional(c[2]))

    def grains_by(self, c: Children) -> tree.GrainsBy:
        return tree.GrainsBy(*_ends(c), word(c[1]), optional(c[2]))

    def ingredients(self, c: Children) -> tree.Ingredients:
        start, end = _ends(c)
        per_portion = len(c) > 1 and c[1].type == "PER_PORTION"
        columns = tuple(word(token) for token in c[1:] if token.type == "NUMBER")
        return tree.Ingredients(start, end, per_portion, columns)

    def cell(self, c: Children) -> Cell:
        amount, by_weight, equal, equal_by_weight = c
        return Cell(word(amount), by_weight is not None or equal_by_weight is not None, optional(equal))

    def absent(self, c: Children) -> None:
        return None

    def ingredient(self, c: Children) -> tree.Ingredient:
        start, end = _line_ends(c)
        alternative = isinstance(c[0], Token) and c[0].type == "OR"
        cells: list[Cell | None] = []
        notes: list[Note] = []
        name: Word | None = None
        for child in c[1 if alternative else 0 :]:
            if child is None or type(child) is Cell:
                cells.append(child)
            elif type(child) is Note:
                notes.append(child)
            else:
                name = word(child)
        assert name is not None
        return tree.Ingredient(start, end, tuple(cells), name, notes_of(notes), alternative)

    def to_taste(self, c: Children) -> tree.Ingredient:
        alternative = c[0].type == "OR"
        rest = c[1 if alternative else 0 :]
        return tree.Ingredient(*_line_ends(c), (), word(rest[1]), notes_of(rest[2:]), alternative)

    def called(self, c: Children) -> Note:
        return Note("called", word(c[1]), c)

    def credited_as(self, c: Children) -> Note:
        return Note("credited_as", word(c[1]), c)

    def on_the_side(self, c: Children) -> Note:
        return Note("on_the_side", word(c[0]), c, optional(c[1]))

    def note_fact(self, c: Children) -> Note:
        if c[0].type == "LEFTOVER":
            return Note("leftover", word(c[0]), c)
        return Note(_phrase(c[0]).replace(" ", "_"), True, c)

    def discard(self, c: Children) -> Note:
        return Note("discard", word(c[1]), c)

    def preparation(self, c: Children) -> Note:
        return Note("preparation", word(c[0]), c)

    def steps(self, c: Children) -> tree.Steps:
        return tree.Steps(*_ends(c))

    def step(self, c: Children) -> tree.Step:
        return read_step(c[0].value, c[0].start_pos)

    def leftovers(self, c: Children) -> tree.Leftovers:
        return tree.Leftovers(*_ends(c))

    # ---- process lines ----

    def or_typed(self, c: Children) -> tree.ProcessLine:
        typed: tree.ProcessLine = c[1]
        return typed._replace(start=c[0].start_pos, alternative=True)

    def cook_at(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_ends(c), "cook at", heat=word(c[1]), time=optional(c[2]), place=optional(c[3]))

    def simmer(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_ends(c), _phrase(c[0]), time=optional(c[1]))

    def rest(self, c: Children) -> tree.ProcessLine:
        how, heat = "", None
        for token in c[2:]:
            if token is None:
                continue
            if token.type == "HEAT":
                heat = word(token)
            else:
                how = _phrase(token)
        return tree.ProcessLine(*_ends(c), "rest", heat=heat, time=word(c[1]), how=how)

    def work(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_ends(c), "work", time=optional(c[1]), how="at room temperature")

    def cook_to(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_control_ends(c), "cook to", c[0] is not None, heat=word(c[2]), time=optional(c[3]))

    def reheat(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(
            *_control_ends(c),
            "reheat to",
            c[0] is not None,
            heat=word(c[2]),
            time=optional(c[3]),
            within=optional(c[4]),
        )

    def hold(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(
            *_control_ends(c), _phrase(c[1]), c[0] is not None, heat=word(c[2]), time=optional(c[4])
        )

    def hold_without(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(
            *_control_ends(c),
            "hold without temperature control",
            c[0] is not None,
            time=optional(c[2]),
            heat=optional(c[3]),
        )

    def microwave(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(
            *_control_ends(c), "microwave to", c[0] is not None, heat=word(c[2]), time=optional(c[3])
        )

    def chill_from(self, c: Children) -> tree.ProcessLine:
        ccp, _, start_heat, heat, within, then, within_then, how = (*c, None, None, None)[:8]
        return tree.ProcessLine(
            *_control_ends(c), "chill", ccp is not None, heat=word(heat), heat_from=word(start_heat),
            heat_then=optional(then), within=word(within), within_then=optional(within_then),
            how="" if how is None else _phrase(how),
        )  # fmt: skip

    def chill_to(self, c: Children) -> tree.ProcessLine:
        how = "" if c[4] is None else _phrase(c[4])
        return tree.ProcessLine(
            *_control_ends(c), "chill", c[0] is not None, heat=word(c[2]), within=word(c[3]), how=how
        )

    def thaw(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_control_ends(c), "thaw", c[0] is not None, how=way_to_thaw(c[2].value))

    def freeze(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_ends(c), "freeze", time=optional(c[1]))

    def transport(self, c: Children) -> tree.ProcessLine:
        return tree.ProcessLine(*_ends(c), "transport", time=optional(c[2]), how=_phrase(c[1]))

    # ---- variation ----

    def based_on(self, c: Children) -> tree.BasedOn:
        return tree.BasedOn(*_ends(c), word(c[1]))

    def use(self, c: Children) -> tree.Use:
        start, end = _line_ends(c)
        words = [child for child in c[1:] if isinstance(child, Token)]
        notes = [child for child in c[1:] if type(child) is Note]
        amounts = [token for token in words if token.type == "AMOUNT"]
        by_weight = any(token.type == "BY_WEIGHT" for token in words)
        cell = Cell(word(amounts[0]), by_weight, word(amounts[1]) if len(amounts) > 1 else None) if amounts else None
        name = next(token for token in words if token.type == "USED_NAME")
        instead = next(token for token in words if token.type == "NAME")
        return tree.Use(start, end, cell, word(name), word(instead), notes_of(notes))

    def leave_out(self, c: Children) -> tree.LeaveOut:
        return tree.LeaveOut(*_ends(c), word(c[1]))

    def leave_out_step(self, c: Children) -> tree.LeaveOutStep:
        return tree.LeaveOutStep(*_ends(c), word(c[1]))

    def add(self, c: Children) -> tree.Add:
        to_taste = isinstance(c[1], Token) and c[1].type == "TO_TASTE"
        line = self.to_taste(c[1:]) if to_taste else self.ingredient(c[1:])
        return tree.Add(c[0].start_pos, line.end, line)

    def instead_of_step(self, c: Children) -> tree.ChangeStep:
        step = read_step(c[2].value, c[2].start_pos)
        return tree.ChangeStep(c[0].start_pos, step.end, word(c[1]), c[0].type == "AFTER_STEP", step)

    after_step = instead_of_step

    def credit_as(self, c: Children) -> tree.CreditAs:
        return tree.CreditAs(*_ends(c), word(c[1]), word(c[2]))

    def change(self, c: Children) -> tree.Field:
        return tree.Field(*_ends(c), "change", word(c[1]))

    # ---- menu and calendar ----

    def starts(self, c: Children) -> tree.Starts:
        return tree.Starts(*_ends(c), tuple(map(word, c[1:])))

    def meals(self, c: Children) -> tree.Meals:
        counts = tuple(
            tree.MealCount(word(grades), word(count)) for grades, count in zip(c[1::2], c[2::2], strict=True)
        )
        return tree.Meals(*_ends(c), counts)

    def every_day(self, c: Children) -> tree.Day:
        return tree.Day(*_ends(c), None, None)

    def day(self, c: Children) -> tree.Day:
        return tree.Day(*_ends(c), Word(_phrase(c[0]), c[0].start_pos), optional(c[1]))

    def choose(self, c: Children) -> tree.Choose:
        return tree.Choose(*_ends(c), optional(c[1]))

    def end(self, c: Children) -> tree.Fact:
        return tree.Fact(*_ends(c), "end")

    def served_count(self, c: Children) -> Note:
        return Note("count", word(c[0]), c)

    def made_count(self, c: Children) -> Note:
        return Note("made", word(c[1]), c)

    def counts_as(self, c: Children) -> Note:
        return Note("items", word(c[0]), c)

    def sold_at(self, c: Children) -> Note:
        return Note("price", word(c[0]), c)

    def sized(self, c: Children) -> tree.Sized:
        parts = list(c) if c[0].type == "AMOUNT" else [None, *c]
        clauses = [child for child in parts[3:] if child is not None]
        return _sized(optional(parts[0]), optional(parts[1]), optional(parts[2]), clauses)

    def serve(self, c: Children) -> tree.Serve:
        start, end = _ends(c)
        return tree.Serve(start, end, tuple(c[1:]))

    def sell(self, c: Children) -> tree.Sell:
        start, end = _line_ends(c)
        amount = word(c[1]) if c[1].type == "AMOUNT" else None
        name = word(c[2] if amount else c[1])
        notes = c[3 if amount else 2 :]
        found = {note.field: note.value for note in notes}
        is_left = found.get("leftover") is not None
        return tree.Sell(
            start=start,
            end=end,
            amount=amount,
            name=name,
            number=found.get("count"),
            price=found.get("price"),
            leftover=is_left,
            repeated=_repeated(notes),
        )

    def closed_days(self, c: Children) -> tree.ClosedDays:
        return tree.ClosedDays(word(c[0]), optional(c[1]))

    def closed(self, c: Children) -> tree.Closed:
        return tree.Closed(*_ends(c), tuple(c[1:]))


def _control_ends(c: Children) -> tuple[int, int]:
    return _ends(c if c[0] is not None else c[1:])


def _line_ends(c: Children) -> tuple[int, int]:
    """Where a line with notes begins and ends."""
    start, end = _ends([child for child in c if type(child) is not Note])
    return start, max(end, c[-1].end) if type(c[-1]) is Note else end


def _sized(amount: Word | None, name: Word | None, grades: Word | None, clauses: Sequence[Note]) -> tree.Sized:
    found = {note.field: note.value for note in clauses}
    return tree.Sized(
        amount=amount,
        name=name,
        grades=grades,
        number=found.get("count"),
        made=found.get("made"),
        items=found.get("items"),
        leftover=found.get("leftover") is not None,
        repeated=_repeated(clauses),
    )


def read_step(text: str, start: int) -> tree.Step:
    """A step line, `- ` and prose, with its references."""
    stripped = text.rstrip()
    prose = stripped[1:].lstrip()
    at = start + len(stripped) - len(prose)
    references: tuple[tree.Reference, ...] = ()
    if "[" in prose:
        references = tuple(
            _reference(match[1], at + match.start(1)) for match in _REFERENCE.finditer(prose) if match[1].strip()
        )
    return tree.Step(start, start + len(stripped), Word(prose, at), references)


def _reference(text: str, start: int) -> tree.Reference:
    """What stands in one pair of brackets."""
    end = start + len(text)
    share = "batch"
    body = text
    amount: Word | None = None
    trailing = _PER_PORTION.search(body)
    if trailing:
        share, body = "portion", body[: trailing.start()]
    offset = len(body) - len(body.lstrip())
    body = body.strip()
    rest = REST_OF.match(body)
    if rest:
        share, offset, body = "rest", offset + rest.end(), body[rest.end() :]
    else:
        measured = REFERENCE_AMOUNT.match(body)
        if measured:
            shown = _OF.sub("", measured[0])
            amount = Word(shown.rstrip(), start + offset)
            left = body[measured.end() :]
            offset += measured.end() + len(left) - len(left.lstrip())
            body = left.lstrip()
    return tree.Reference(start, end, amount, Word(body, start + offset), share)
