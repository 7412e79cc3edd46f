"""From a recipe's lines to what it is.

Only lines of the declaration itself raise problems; those of a variation's base are reported at the base.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from recipelang.findings.finding import DeclarationId, Place
from recipelang.findings.nearest import nearest
from recipelang.model import vocabulary
from recipelang.model.allergen_lines import read_promise
from recipelang.model.components import Component, read_component, unknown_component
from recipelang.model.dates import read_date
from recipelang.model.measures import Rate, node_of, settled
from recipelang.model.process_lines import read_control
from recipelang.model.recipe import Assembly, Claim, GrainsBy, Line, PortionPart, Recipe, Side
from recipelang.model.shared_lines import read_credit
from recipelang.model.values import Problems, number_of, quantity_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.text.sentence import capital
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import COUNT, GRAM, KILOGRAM, MASS, TIME, VOLUME


def assemble(body: Body, home: DeclarationId) -> Assembly:
    """The lines of a recipe declaration."""
    fields: list[tuple[DeclarationId, Any]] = []
    header: tuple[DeclarationId, tree.Ingredients] | None = None
    ingredients: list[tuple[DeclarationId, tree.Ingredient]] = []
    steps: list[tuple[DeclarationId, tree.Step]] = []
    has_steps = False
    leftovers: tuple[DeclarationId, tree.Leftovers] | None = None
    for line in body.lines:
        kind = type(line)
        if kind is tree.Ingredients:
            header = header or (home, line)
            ingredients.extend((home, ingredient) for ingredient in line.lines)
        elif kind is tree.Steps:
            has_steps = True
            steps.extend((home, step) for step in line.lines)
        elif kind is tree.Leftovers:
            leftovers = (home, line)
        else:
            fields.append((home, line))
    return Assembly(tuple(fields), header, tuple(ingredients), tuple(steps), has_steps, leftovers, body.broken)


def build_recipe(
    name: str, home: DeclarationId, assembly: Assembly, base: tuple[str, Place] | None = None, extra: Iterable[Problem] = (),
    own_units: tuple[Rate, ...] = (),
) -> Recipe:  # fmt: skip
    """The recipe that an assembly describes."""
    return _Builder(name, home, assembly, base, extra, own_units).recipe()


class _Builder:
    def __init__(
        self, name: str, home: DeclarationId, assembly: Assembly, base: tuple[str, Place] | None, extra: Iterable[Problem],
        own_units: tuple[Rate, ...],
    ) -> None:  # fmt: skip
        self.name = name
        self.home = home
        self.assembly = assembly
        self.base = base
        self.own: Problems = list(extra)
        self.elsewhere: Problems = []
        self.replaced = {start: (key, amounts) for start, key, amounts in assembly.replaced}
        self.own_units = own_units

    def problems(self, home: DeclarationId) -> Problems:
        """Where problems of a line go: the declaration's own are told, its base's were told there."""
        return self.own if home == self.home else self.elsewhere

    def _quantity(self, home: DeclarationId, word: Word, number_optional: bool = False) -> Quantity | None:
        quantity = quantity_of(word, self.problems(home), number_optional)
        return None if quantity is None else settled(quantity, self.own_units)

    def recipe(self) -> Recipe:
        assembly = self.assembly
        number = course = audience = serve_with = pans = ""
        process: tuple[str, Place] | None = None
        makes_spot: Place | None = None
        portions: Fraction | None = None
        portion: tuple[PortionPart, ...] = ()
        container: tuple[str, Place] | None = None
        claims: list[Claim] = []
        claims_spot: Place | None = None
        claims_nothing = False
        made_without: list[tuple[str, Place]] = []
        grains_by: GrainsBy | None = None
        whole_grain_rich: Place | None = None
        dessert = False
        loses = ZERO
        rates: list[Rate] = []
        yields: list[Side] = []
        batch_limit: Fraction | None = None
        tested: tuple[date, Fraction | None] | None = None
        keeps: list[tuple[str, Quantity]] = []
        offers: list[tuple[str, str, Place]] = []
        not_tcs: tuple[str, Place] | None = None
        for home, line in assembly.fields:
            kind = type(line)
            problems = self.problems(home)
            spot = Place(home, line.start, line.end)
            if kind is tree.Makes:
                makes_spot = spot
                portions = number_of(line.number, problems)
                portion = self._portion(home, line)
            elif kind is tree.Claims:
                claims_spot = spot
                claims.extend(self._claims(home, line))
            elif kind is tree.CreditsNothing:
                claims_spot = spot
                claims_nothing = True
            elif kind is tree.Field:
                value = line.value
                where = Place(home, value.start, value.end)
                if line.name == "course":
                    course = self._choice(home, value, vocabulary.COURSES, "a course")
                elif line.name == "process":
                    word = self._choice(home, value, vocabulary.PROCESSES, "a process")
                    process = (word, where) if word else None
                elif line.name == "number":
                    number = value.text
                elif line.name == "for":
                    audience = value.text
                elif line.name == "serve with":
                    serve_with = value.text
                elif line.name == "pans":
                    pans = value.text
                else:
                    offers.append((line.name, value.text, where))
            elif kind is tree.PackedInto:
                container = (line.container.text, Place(home, line.container.start, line.container.end))
            elif kind is tree.Allergens:
                made_without.extend(self._made_without(home, line))
            elif kind is tree.GrainsBy:
                grains_by = self._grains_by(home, line)
            elif kind is tree.Fact:
                if line.name == "whole grain-rich":
                    whole_grain_rich = spot
                elif line.name == "grain-based dessert":
                    dessert = True
                elif line.name == "not tcs":
                    not_tcs = (line.detail.text if line.detail else "", spot)
            elif kind is tree.Loses:
                loses = share_of(line.share, problems) or loses
            elif kind is tree.Weighs:
                rate = self._weighs(home, line)
                if rate is not None:
                    rates.append(rate)
            elif kind is tree.Yields:
                yields.extend(self._sides(home, (line.amount, line.equal)))
            elif kind is tree.BatchLimit:
                batch_limit = number_of(line.portions, problems)
            elif kind is tree.Tested:
                on = read_date(line.date, problems)
                count = number_of(line.portions, problems) if line.portions else None
                tested = None if on is None else (on, count)
            elif kind is tree.Keeps:
                keeps.extend(self._keeps(home, line))
        for home, step in assembly.steps:
            for typed in step.process_lines:
                read_control(home, typed, self.problems(home))
        if assembly.leftovers is not None:
            home, block = assembly.leftovers
            for typed in block.process_lines:
                read_control(home, typed, self.problems(home))
        for home, step in assembly.steps:
            for reference in step.references:
                if reference.amount is not None:
                    quantity_of(reference.amount, self.problems(home))
        header = assembly.header
        return Recipe(
            self.name, fold(self.name), self.home, self.base, number, course, process, audience, makes_spot, portions,
            portion, container, tuple(claims), claims_spot, claims_nothing, tuple(made_without), grains_by,
            whole_grain_rich, dessert, loses, tuple(rates), tuple(yields), batch_limit,
            header is not None and header[1].per_portion, self._columns(), self._lines(), assembly.steps,
            assembly.has_steps, serve_with, tested, tuple(keeps), tuple(offers), not_tcs, assembly.leftovers, pans,
            assembly.broken, tuple(sorted(self.own)),
        )  # fmt: skip

    # ---- fields ----

    def _choice(self, home: DeclarationId, word: Word, choices: tuple[str, ...], what: str) -> str:
        phrase = " ".join(word.text.casefold().split())
        if phrase in choices:
            return phrase
        near = nearest(phrase, choices, 1)
        self.problems(home).append(
            Problem(word.start, word.end, "syntax", f"`{word.text}` is not {what} that the notation knows.",
                    near[0] if near else None, f"write one of: {', '.join(choices)}")
        )  # fmt: skip
        return ""

    def _portion(self, home: DeclarationId, line: tree.Makes) -> tuple[PortionPart, ...]:
        parts: list[PortionPart] = []
        for part in line.parts:
            quantity = self._quantity(home, part.amount, True)
            if quantity is not None:
                name = part.name.text if part.name else ""
                parts.append(PortionPart(quantity, name, Place(home, part.amount.start, part.amount.end)))
        return tuple(parts)

    def _claims(self, home: DeclarationId, line: tree.Claims) -> Iterable[Claim]:
        problems = self.problems(home)
        claimed: set[Component] = set()
        for credit in line.credits:
            read = read_credit(credit.amount, credit.component, problems)
            if read is None:
                continue
            component, amount = read
            if component in claimed:
                problems.append(
                    Problem(credit.amount.start, credit.component.end, "repeated-field",
                            f"{capital(component.title)} is claimed twice in one line.",
                            help="keep one of the two, or add them up")
                )  # fmt: skip
                continue
            claimed.add(component)
            yield Claim(component, amount, Place(home, credit.amount.start, credit.component.end))

    def _made_without(self, home: DeclarationId, line: tree.Allergens) -> Iterable[tuple[str, Place]]:
        for name, word in read_promise(line.items, self.problems(home)):
            yield name, Place(home, word.start, word.end)

    def _grains_by(self, home: DeclarationId, line: tree.GrainsBy) -> GrainsBy | None:
        method = self._choice(home, line.method, vocabulary.GRAIN_METHODS, "a way to credit grains")
        if not method:
            return None
        return GrainsBy(method, line.group.text.upper() if line.group else "", Place(home, line.start, line.end))

    def _weighs(self, home: DeclarationId, line: tree.Weighs) -> Rate | None:
        problems = self.problems(home)
        weight = self._quantity(home, line.weight)
        if line.per is None:
            return None if weight is None else Rate("each", MASS, weight.base, weight.unit in (GRAM, KILOGRAM))
        per = self._quantity(home, line.per, True)
        if weight is None or per is None:
            return None
        if weight.dimension != MASS or per.dimension not in (VOLUME, COUNT):
            problems.append(
                Problem(line.start, line.end, "dimension-mismatch", "This line gives no weight for a volume or a piece.",
                        help="write it like `weighs 245 g per cup`")
            )  # fmt: skip
            return None
        return Rate(node_of(per.unit), MASS, weight.base / per.base, weight.unit in (GRAM, KILOGRAM))

    def _keeps(self, home: DeclarationId, line: tree.Keeps) -> Iterable[tuple[str, Quantity]]:
        for item in line.items:
            time = quantity_of(item.time, self.problems(home))
            place = self._choice(home, item.place, vocabulary.KEEPING_PLACES, "a way to keep food")
            if time is not None and time.dimension != TIME:
                self.problems(home).append(
                    Problem(item.time.start, item.time.end, "dimension-mismatch", f"`{item.time.text}` is not a time.",
                            help="write days or hours, as in `keeps 72 h cold`")
                )  # fmt: skip
            elif time is not None and place:
                yield place, time

    # ---- ingredients ----

    def _columns(self) -> tuple[tuple[Fraction, Place], ...]:
        if self.assembly.header is None:
            return ()
        home, header = self.assembly.header
        columns: list[tuple[Fraction, Place]] = []
        for word in header.columns:
            number = number_of(word, self.problems(home))
            if number is not None:
                columns.append((number, Place(home, word.start, word.end)))
        return tuple(columns)

    def _sides(self, home: DeclarationId, words: Iterable[Word | None]) -> list[Side]:
        sides: list[Side] = []
        for word in words:
            if word is None:
                continue
            quantity = self._quantity(home, word)
            if quantity is not None:
                sides.append(Side(quantity, Place(home, word.start, word.end)))
        return sides

    def _lines(self) -> tuple[Line, ...]:
        lines: list[Line] = []
        slot = -1
        for home, line in self.assembly.ingredients:
            if not line.alternative or slot < 0:
                slot += 1
            lines.append(self._line(home, line, slot))
        return tuple(lines)

    def _line(self, home: DeclarationId, line: tree.Ingredient, slot: int) -> Line:
        notes = line.notes
        problems = self.problems(home)
        replaces, amounts_home = self.replaced.get(line.start, ("", home)) if home == self.home else ("", home)
        cells = tuple(
            None if cell is None else tuple(self._sides(amounts_home, (cell.amount, cell.equal))) for cell in line.cells
        )
        credited_as: Component | None = None
        if notes.credited_as is not None:
            credited_as = read_component(notes.credited_as.text)
            if credited_as is None:
                problems.append(unknown_component(notes.credited_as))
        discard = ZERO
        if notes.discard is not None:
            share = share_of(notes.discard, problems)
            discard = share or discard
            if share is None:  # how much of it stays is unknown
                cells = tuple(() for _ in cells)
        side_container = None
        if notes.side_container is not None:
            word = notes.side_container
            side_container = (word.text, Place(home, word.start, word.end))
        return Line(
            line.name.text, fold(line.name.text), Place(home, line.start, line.end),
            Place(home, line.name.start, line.name.end), cells, slot, line.alternative,
            fold(notes.called.text) if notes.called else "", credited_as, notes.on_the_side is not None, side_container,
            notes.optional, notes.not_credited, notes.leftover is not None, discard, not line.cells,
            replaces,
            any(cell is not None and cell.by_weight for cell in line.cells),
        )  # fmt: skip
