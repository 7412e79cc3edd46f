"""A menu as the evaluator sees it: a program, whom it feeds, and days with what is served, chosen from and sold.

`every day` is folded into each day, days come in the order of the week, and every line knows its place. Nothing is
looked up here: what a name means is for the facts.
"""

from __future__ import annotations

from bisect import bisect_right
from datetime import date
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.model.calendar import WEEKDAYS
from recipelang.model.dates import read_served_date
from recipelang.model.grades import Grades, read_grades
from recipelang.model.measures import Rate, settled
from recipelang.model.values import Problems, items_of, number_of, quantity_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.text.record import Record
from recipelang.text.sentence import capital
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction

LUNCH: Final = "lunch"
BREAKFAST: Final = "breakfast"
SNACK: Final = "snack"
SUPPER: Final = "supper"
A_LA_CARTE: Final = "a la carte"
PROGRAMS: Final = (
    BREAKFAST, LUNCH, SNACK, SUPPER, "summer breakfast", "summer lunch", "summer supper", "summer snack",
    "child care breakfast", "child care lunch", "child care supper", "child care snack", A_LA_CARTE,
)  # fmt: skip


class Span(Record):
    """A stretch of the menu's own text."""

    start: int
    end: int


class Size(Record):
    """One size of what is served, for everybody or for some grades."""

    name: str
    key: str
    name_spot: Span
    amount: Quantity | None
    """None for one portion of a recipe, or one piece of a food."""
    amount_text: str
    grades: Grades | None
    grades_spot: Span
    planned: Fraction | None
    """Planned servings; None where the line does not say."""
    made: Fraction | None
    items: int | None
    leftover: bool


class Line(Record):
    """A `serve` line: its sizes, and where it stands."""

    sizes: tuple[Size, ...]
    start: int
    end: int


class Choice(Record):
    """`choose N`: the lines of which a student takes so many."""

    number: int
    lines: tuple[Line, ...]
    start: int
    end: int


Slot = Line | Choice

_DAYS: Final = frozenset({*(day.casefold() for day in WEEKDAYS), "every day"})


class Sale(Record):
    """A `sell` line."""

    name: str
    key: str
    name_spot: Span
    amount: Quantity | None
    amount_text: str
    planned: Fraction | None
    price: Fraction | None
    leftover: bool
    start: int
    end: int


class MenuDay(Record):
    weekday: int
    """Monday is 0."""
    date: date | None
    slots: tuple[Slot, ...]
    sales: tuple[Sale, ...]
    is_broken: bool
    """Whether a line of it can't be read, so that what it offers is not known."""
    start: int
    end: int

    @property
    def name(self) -> str:
        return WEEKDAYS[self.weekday]

    @property
    def lines(self) -> tuple[Line, ...]:
        """All `serve` lines, those under a `choose` too."""
        return tuple(
            line for slot in self.slots for line in (slot.lines if isinstance(slot, Choice) else (slot,))
        )  # fmt: skip


class Group(Record):
    """Whom `meals` counts, and how many a day."""

    grades: Grades
    number: Fraction
    start: int
    end: int


class Start(Record):
    date: date
    start: int
    end: int


class Menu(Record):
    name: str
    program: str
    """Empty where it is not said or not known."""
    program_spot: Span | None
    offer_versus_serve: bool
    vegetables_for_grains: bool
    """Whether it is served where vegetables may stand for grains (7 CFR 210.10(c)(3))."""
    site: str
    """The child care site whose meals of a day are taken together, folded; empty for the one that needs no name."""
    starts: tuple[Start, ...]
    groups: tuple[Group, ...]
    meals_spot: Span | None
    days: tuple[MenuDay, ...]
    is_broken: bool
    """Whether a day's own line can't be read, so that nobody knows which day its lines belong to."""
    broken: frozenset[str]
    """First words of the lines that can't be read."""
    problems: tuple[Problem, ...]


def build_menu(name: str, body: Body, own_units: tuple[Rate, ...] = ()) -> Menu:
    """The menu that a declaration's lines describe; what can't be used is a problem and stays unknown."""
    return _Builder(name, body, own_units).menu()


class _Builder:
    def __init__(self, name: str, body: Body, own_units: tuple[Rate, ...]) -> None:
        self.name = name
        self.body = body
        self.own_units = own_units
        self.problems: Problems = []

    def menu(self) -> Menu:
        program = ""
        program_spot: Span | None = None
        facts: set[str] = set()
        site = ""
        starts: list[Start] = []
        groups: list[Group] = []
        meals_spot: Span | None = None
        days: list[MenuDay] = []
        every: list[tree.Day] = []
        for line in self.body.lines:
            kind = type(line)
            if kind is tree.Field and line.name == "program":
                program_spot = Span(line.value.start, line.value.end)
                program = self._program(line.value)
            elif kind is tree.Field and line.name == "site":
                site = fold(line.value.text)
            elif kind is tree.Fact:
                facts.add(line.name)
            elif kind is tree.Starts:
                for word in line.dates:
                    found = read_served_date(word, self.problems)
                    if found is not None:
                        starts.append(Start(found, word.start, word.end))
            elif kind is tree.Meals:
                meals_spot = Span(line.start, line.end)
                groups.extend(self._groups(line))
            elif kind is tree.Day and line.weekday is None:
                every.append(line)
        common = [inside for day in every for inside in day.lines]
        shared_slots, shared_sales = self._lines(common)
        days.extend(
            self._day(line, shared_slots, shared_sales)
            for line in self.body.lines
            if type(line) is tree.Day and line.weekday is not None
        )
        days.sort(key=lambda day: (day.date or date.min, day.weekday, day.start))
        unread = self._unread()
        return Menu(
            name=self.name,
            program=program,
            program_spot=program_spot,
            offer_versus_serve="offer versus serve" in facts,
            vegetables_for_grains="vegetables for grains" in facts,
            site=site,
            starts=tuple(starts),
            groups=tuple(groups),
            meals_spot=meals_spot,
            days=tuple(
                day._replace(is_broken=bool(unread & {day.start, *(one.start for one in every)})) for day in days
            ),
            is_broken=bool(self.body.broken & _DAYS),
            broken=self.body.broken,
            problems=tuple(self.problems),
        )

    def _unread(self) -> set[int]:
        """Where the days begin that hold something that can't be read or used."""
        begins = [line.start for line in self.body.lines if type(line) is tree.Day]
        found: set[int] = set()
        for problem in (*self.body.problems, *self.problems):
            at = bisect_right(begins, problem.start)
            if at and problem.rule != "repeated-field":
                found.add(begins[at - 1])
        return found

    def _program(self, word: Word) -> str:
        phrase = " ".join(word.text.casefold().split())
        if phrase in PROGRAMS:
            return phrase
        near = nearest(phrase, PROGRAMS, 1)
        self.problems.append(
            Problem(word.start, word.end, "syntax", f"`{word.text}` is not a program that the notation knows.",
                    near[0] if near else None, f"write one of: {', '.join(PROGRAMS)}")
        )  # fmt: skip
        return ""

    def _groups(self, line: tree.Meals) -> list[Group]:
        found: list[Group] = []
        for count in line.counts:
            grades = self._grades(count.grades)
            number = number_of(count.number, self.problems)
            if grades is None or number is None:
                continue
            if any(one.grades.meets(grades) for one in found):
                self.problems.append(
                    Problem(count.grades.start, count.grades.end, "repeated-field",
                            f"{capital(grades.title)} are counted twice in this line.",
                            help="count everybody once")
                )  # fmt: skip
                continue
            found.append(Group(grades, number, count.grades.start, count.number.end))
        return found

    def _grades(self, word: Word) -> Grades | None:
        grades = read_grades(word.text)
        if grades is None:
            self.problems.append(
                Problem(word.start, word.end, "syntax", f"`{word.text}` are no grades or ages.",
                        help="write them like `K-5`, `9-12`, `preschool` or `ages 3-5`")
            )  # fmt: skip
        return grades

    def _day(self, day: tree.Day, slots: tuple[Slot, ...], sales: tuple[Sale, ...]) -> MenuDay:
        assert day.weekday is not None
        own_slots, own_sales = self._lines(list(day.lines))
        weekday = [one.casefold() for one in WEEKDAYS].index(day.weekday.text.casefold())
        on = read_served_date(day.date, self.problems) if day.date is not None else None
        return MenuDay(weekday, on, slots + own_slots, sales + own_sales, False, day.start, day.end)

    def _lines(self, lines: list[object]) -> tuple[tuple[Slot, ...], tuple[Sale, ...]]:
        slots: list[Slot] = []
        sales: list[Sale] = []
        for line in lines:
            if isinstance(line, tree.Serve):
                slots.append(self._serve(line))
            elif isinstance(line, tree.Choose):
                slots.append(self._choose(line))
            elif isinstance(line, tree.Sell):
                sales.append(self._sell(line))
        return tuple(slots), tuple(sales)

    def _choose(self, line: tree.Choose) -> Choice:
        lines = tuple(self._serve(one) for one in line.lines)
        number = 1
        if line.number is not None:
            wanted = number_of(line.number, self.problems)
            number = int(wanted) if wanted is not None and wanted.denominator == 1 else 1
            if wanted is not None and (wanted.denominator != 1 or (lines and wanted > len(lines))):
                what = f"of {len(lines)} lines" if wanted.denominator == 1 else "of anything"
                self.problems.append(
                    Problem(line.number.start, line.number.end, "impossible-amount",
                            f"Nobody can choose {line.number.text} {what}.", help="write how many a student may take")
                )  # fmt: skip
        return Choice(min(number, max(len(lines), 1)), lines, line.start, line.end)

    def _serve(self, line: tree.Serve) -> Line:
        first = next((size.name for size in line.sizes if size.name is not None), None)
        sizes: list[Size] = []
        for size in line.sizes:
            name = size.name or first
            if name is None:
                continue
            amount = self._amount(size.amount)
            grades = self._grades(size.grades) if size.grades is not None else None
            spot = Span(size.grades.start, size.grades.end) if size.grades is not None else Span(name.start, name.end)
            sizes.append(
                Size(
                    name=name.text,
                    key=fold(name.text),
                    name_spot=Span(name.start, name.end),
                    amount=amount,
                    amount_text=size.amount.text if size.amount is not None and amount is not None else "",
                    grades=grades,
                    grades_spot=spot,
                    planned=self._number(size.number),
                    made=self._number(size.made),
                    items=items_of(size.items, self.problems),
                    leftover=size.leftover,
                )
            )
        if first is None:
            self.problems.append(
                Problem(
                    line.start,
                    line.end,
                    "syntax",
                    "This line doesn't say what is served.",
                    help="write a food or a recipe after the amount, as in `serve 1/2 cup chili, 160`",
                )
            )
        return Line(tuple(sizes), line.start, line.end)

    def _sell(self, line: tree.Sell) -> Sale:
        name = line.name
        amount = self._amount(line.amount)
        return Sale(
            name=name.text,
            key=fold(name.text),
            name_spot=Span(name.start, name.end),
            amount=amount,
            amount_text=line.amount.text if line.amount is not None and amount is not None else "",
            planned=self._number(line.number),
            price=number_of(line.price, self.problems, zero=True) if line.price is not None else None,
            leftover=line.leftover,
            start=line.start,
            end=line.end,
        )

    def _amount(self, word: Word | None) -> Quantity | None:
        quantity = quantity_of(word, self.problems) if word is not None else None
        return None if quantity is None else settled(quantity, self.own_units)

    def _number(self, word: Word | None) -> Fraction | None:
        return number_of(word, self.problems) if word is not None else None
