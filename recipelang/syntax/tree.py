"""The syntax tree: what the lines of a declaration say, with their places, before any name or unit is looked up.

Places are offsets into the declaration's text. Nodes are named tuples rather than dataclasses: a frozen slotted
dataclass costs 0.45 ms to define, a named tuple 0.06, and a command defines them all before it reads its first line.
`start` and `end` frame a line from its first word to its last.
"""

from __future__ import annotations

from typing import Any, Final, NamedTuple

from recipelang.text.record import Record


class Word(NamedTuple):  # made by the hundred: a plain named tuple is made faster
    """A piece of text in its place: a name, an amount, a number, a phrase."""

    text: str
    start: int

    @property
    def end(self) -> int:
        return self.start + len(self.text)


# ---- lines of several kinds of declaration ---------------------------------------------------------------------------


class Fact(Record):
    """A line that is one fixed phrase: `liquid`, `tcs`, `usda foods`, `whole grain-rich`, `offer versus serve`."""

    start: int
    end: int
    name: str
    detail: Word | None = None


class Field(Record):
    """A field whose value is one phrase: `number`, `course`, `process`, `for`, `serve with`, `pans`, `program` …"""

    start: int
    end: int
    name: str
    value: Word


class Price(Record):
    start: int
    end: int
    price: Word
    per: Word | None


class Weighs(Record):
    """`weighs 245 g per cup, within 20%`, and `each weighs 57 g` with `per` None."""

    start: int
    end: int
    weight: Word
    per: Word | None
    within: Word | None


class Keeping(Record):
    time: Word
    place: Word


class Keeps(Record):
    start: int
    end: int
    items: tuple[Keeping, ...]
    once: bool


class Allergen(Record):
    name: Word
    kind: Word | None


class Allergens(Record):
    """`contains …`, `may contain …`, `contains none of the nine` (no items), `made without …`."""

    start: int
    end: int
    verb: str
    items: tuple[Allergen, ...]


class CreditsNothing(Record):
    start: int
    end: int


# ---- food ------------------------------------------------------------------------------------------------------------


class Pack(Record):
    """`pack 4 tubs of 5 lb`: from the outermost to the innermost."""

    start: int
    end: int
    amounts: tuple[Word, ...]


class Acidity(Record):
    start: int
    end: int
    ph: Word | None
    water_activity: Word | None


class Milk(Record):
    start: int
    end: int
    fat: Word
    flavor: Word | None


class Caffeine(Record):
    start: int
    end: int
    amount: Word
    per: Word


class AlsoCalled(Record):
    """`also called garbanzo beans, ceci beans`."""

    start: int
    end: int
    names: tuple[Word, ...]


class LabelRead(Record):
    start: int
    end: int
    date: Word


class Arrives(Record):
    start: int
    end: int
    state: Word
    frozen: bool


class FoodCredit(Record):
    """`credits 1 oz eq meat/meat alternate per 2 oz as served, with at least 5 g protein`."""

    start: int
    end: int
    amount: Word
    component: Word
    per: Word | None
    basis: str
    """`as purchased`, `as served`, or empty."""
    liquid: str
    """`drained`, `with its liquid`, or empty."""
    served: str
    """`raw` or `cooked`, as what is credited is served; empty where the line doesn't say."""
    condition: Word | None
    """`5 g protein` of `with at least 5 g protein`."""


class GrainGroup(Record):
    start: int
    end: int
    group: Word


class CreditableGrain(Record):
    """Creditable grain as a share (`per` None) or a weight; `kind` is whole, enriched or empty; `whole` its weight."""

    start: int
    end: int
    amount: Word
    per: Word | None
    kind: str
    whole: Word | None


class OtherGrain(Record):
    start: int
    end: int
    amount: Word
    per: Word | None


class EdibleShare(Record):
    start: int
    end: int
    share: Word
    parent: Word


class LeftFrom(Record):
    start: int
    end: int
    parent: Word
    share: Word


class Nutrient(Record):
    start: int
    end: int
    name: Word
    amount: Word


class Nutrition(Record):
    start: int
    end: int
    per: Word
    nutrients: tuple[Nutrient, ...] = ()


# ---- container -------------------------------------------------------------------------------------------------------


class Holds(Record):
    start: int
    end: int
    amount: Word


class Headspace(Record):
    start: int
    end: int
    amount: Word


class Fits(Record):
    start: int
    end: int
    number: Word
    name: Word


# ---- recipe ----------------------------------------------------------------------------------------------------------


class PortionPart(Record):
    amount: Word
    name: Word | None


class Makes(Record):
    start: int
    end: int
    number: Word
    parts: tuple[PortionPart, ...]


class PackedInto(Record):
    """`in clear cup 12`."""

    start: int
    end: int
    container: Word


class Credit(Record):
    amount: Word
    component: Word


class Claims(Record):
    start: int
    end: int
    credits: tuple[Credit, ...]


class Tested(Record):
    start: int
    end: int
    date: Word
    portions: Word | None


class BatchLimit(Record):
    start: int
    end: int
    portions: Word


class Yields(Record):
    start: int
    end: int
    amount: Word
    equal: Word | None


class Loses(Record):
    start: int
    end: int
    share: Word
    how: Word | None


class GrainsBy(Record):
    start: int
    end: int
    method: Word
    group: Word | None


class Cell(Record):
    """An ingredient's amount in one column; `by_weight` says that ounces of a liquid are meant as weight. A cell that
    is not printed is None in its row."""

    amount: Word
    by_weight: bool = False
    equal: Word | None = None


class Stretch(Record):
    start: int
    end: int


class Repeated(Record):
    """A note of a kind that the line has already: which kind, and where the first one stands."""

    start: int
    end: int
    kind: str
    first: Stretch


class Notes(Record):
    """What stands after an ingredient's commas. Of two notes of a kind the later counts."""

    called: Word | None = None
    credited_as: Word | None = None
    on_the_side: Word | None = None
    side_container: Word | None = None
    optional: bool = False
    not_credited: bool = False
    leftover: Word | None = None
    items: Word | None = None
    to_order: bool = False
    discard: Word | None = None
    preparation: tuple[Word, ...] = ()
    repeated: tuple[Repeated, ...] = ()


NO_NOTES = Notes()


class Ingredient(Record):
    """An ingredient line; no cells: `to taste`."""

    start: int
    end: int
    cells: tuple[Cell | None, ...]
    name: Word
    notes: Notes
    alternative: bool = False


class Ingredients(Record):
    start: int
    end: int
    per_portion: bool
    columns: tuple[Word, ...]
    lines: tuple[Ingredient, ...] = ()


class Reference(Record):
    """`[2 oz whipped ricotta per portion]` in a step: inside the brackets only. `share` is batch, portion or rest."""

    start: int
    end: int
    amount: Word | None
    name: Word
    share: str


class ProcessLine(Record):
    """A process line: `verb` names its form, the other fields hold what it says."""

    start: int
    end: int
    verb: str
    ccp: bool = False
    heat: Word | None = None
    heat_from: Word | None = None
    heat_then: Word | None = None
    time: Word | None = None
    within: Word | None = None
    within_then: Word | None = None
    how: str = ""
    place: Word | None = None
    alternative: bool = False


class Step(Record):
    start: int
    end: int
    text: Word
    references: tuple[Reference, ...]
    process_lines: tuple[ProcessLine, ...] = ()


class Steps(Record):
    start: int
    end: int
    lines: tuple[Step, ...] = ()


class Leftovers(Record):
    start: int
    end: int
    keeps: tuple[Keeps, ...] = ()
    process_lines: tuple[ProcessLine, ...] = ()


# ---- variation -------------------------------------------------------------------------------------------------------


class BasedOn(Record):
    start: int
    end: int
    base: Word


class Use(Record):
    start: int
    end: int
    cell: Cell | None
    name: Word
    instead_of: Word
    notes: Notes


class LeaveOut(Record):
    start: int
    end: int
    name: Word


class LeaveOutStep(Record):
    start: int
    end: int
    number: Word


class Add(Record):
    start: int
    end: int
    ingredient: Ingredient


class ChangeStep(Record):
    """`instead of step 3 - …` and `after step 2 - …`."""

    start: int
    end: int
    number: Word
    after: bool
    step: Step


class CreditAs(Record):
    start: int
    end: int
    name: Word
    component: Word


class Change(Record):
    """`change LINE`: the field that replaces the base's, parsed as the recipe's line it is; None where it can't be
    read."""

    start: int
    end: int
    line: object


# ---- menu and calendar -----------------------------------------------------------------------------------------------


class Starts(Record):
    start: int
    end: int
    dates: tuple[Word, ...]


class MealCount(Record):
    grades: Word
    number: Word


class Meals(Record):
    start: int
    end: int
    counts: tuple[MealCount, ...]


class Sized(Record):
    """One size of what is served: an amount, a name where it is not the first's, and for whom."""

    amount: Word | None
    name: Word | None
    grades: Word | None
    number: Word | None
    made: Word | None
    items: Word | None
    leftover: bool
    repeated: tuple[Repeated, ...] = ()


class Serve(Record):
    start: int
    end: int
    sizes: tuple[Sized, ...]

    @property
    def name(self) -> Word | None:
        return self.sizes[0].name


class Sell(Record):
    start: int
    end: int
    amount: Word | None
    name: Word
    number: Word | None
    price: Word | None
    leftover: bool
    repeated: tuple[Repeated, ...] = ()


class Choose(Record):
    start: int
    end: int
    number: Word | None
    lines: tuple[Serve, ...] = ()


class Day(Record):
    """A day of a menu; `every day` has no weekday."""

    start: int
    end: int
    weekday: Word | None
    date: Word | None
    lines: tuple[Any, ...] = ()


class ClosedDays(Record):
    first: Word
    last: Word | None


class Closed(Record):
    start: int
    end: int
    days: tuple[ClosedDays, ...]


# ---- a whole declaration ---------------------------------------------------------------------------------------------


class Problem(Record):
    """A line the notation can't read, or one that stands in the wrong place: a sentence, and a fix where there is
    one (`instead` replaces the text between start and end)."""

    start: int
    end: int
    rule: str
    message: str
    instead: str | None = None
    help: str = ""
    reach: tuple[int, int] | None = None
    """Which text `instead` replaces, if not that between `start` and `end`: a step is joined to the line above."""


class Allowance(Record):
    """`// allow RULE: reason`; it holds for findings that begin between `line_start` and `line_end`."""

    start: int
    end: int
    rule: str
    reason: str
    line_start: int
    line_end: int


ANYTHING: Final = "?"
"""Among a body's `broken` words: a broken line begins with no word of the notation, and could have said anything."""


class Body(Record):
    """A declaration's lines in their blocks, what could not be read, and what is unknown for it rather than absent: the
    keywords of the broken lines, and the blocks (`ingredients`, `steps`, `nutrition`) that lack some of theirs."""

    lines: tuple[Any, ...]
    problems: tuple[Problem, ...]
    allowances: tuple[Allowance, ...]
    broken: frozenset[str]


def _is_same(node: Any, other: Any) -> bool:
    return type(node) is type(other) and tuple.__eq__(node, other)


def _is_other(node: Any, other: Any) -> bool:
    return not _is_same(node, other)


# As tuples, `holds 12 fl oz` and `headspace 12 fl oz` would be equal, and an edit of one into the other no change.
for _kind in [kind for kind in vars().values() if isinstance(kind, type) and issubclass(kind, tuple)]:
    setattr(_kind, "__eq__", _is_same)  # noqa: B010
    setattr(_kind, "__ne__", _is_other)  # noqa: B010
