"""From a recipe's lines to what it is: one method a line form.

Only lines of the declaration itself raise problems; those of a variation's base are reported at the base.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, Final

from recipelang.findings.finding import DeclarationId, Place
from recipelang.model import vocabulary
from recipelang.model.allergen_lines import read_promise
from recipelang.model.components import Component
from recipelang.model.dates import read_date
from recipelang.model.ingredient_lines import read_columns, read_lines
from recipelang.model.measures import Rate, node_of
from recipelang.model.process_lines import Keeping, read_keeps, read_leftovers, read_step
from recipelang.model.reader import Reader, place_of
from recipelang.model.recipe import Assembly, Claim, GrainsBy, PortionPart, Recipe, Side
from recipelang.model.shared_lines import read_credit
from recipelang.model.values import choice_of, number_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Body, Problem
from recipelang.text.sentence import capital
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import COUNT, GRAM, KILOGRAM, MASS, VOLUME


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
    return Assembly(
        fields=tuple(fields),
        header=header,
        ingredients=tuple(ingredients),
        steps=tuple(steps),
        has_steps=has_steps,
        leftovers=leftovers,
        broken=body.broken,
    )


def build_recipe(
    name: str,
    home: DeclarationId,
    assembly: Assembly,
    base: tuple[str, Place] | None = None,
    extra: Iterable[Problem] = (),
    own_units: tuple[Rate, ...] = (),
) -> Recipe:
    """The recipe that an assembly describes."""
    return _Builder(Reader(home, extra, own_units), assembly).recipe(name, base)


class _Builder:
    """What the lines of one recipe have said so far. Of two lines of a form the later counts, and a rule says so."""

    def __init__(self, reader: Reader, assembly: Assembly) -> None:
        self.reader = reader
        self.assembly = assembly
        self.words: dict[str, str] = {}
        """Phrases by their fields, as they are written."""
        self.course = ""
        self.process: tuple[str, Place] | None = None
        self.portions: Fraction | None = None
        self.portion: tuple[PortionPart, ...] = ()
        self.container: tuple[str, Place] | None = None
        self.claims: list[Claim] = []
        self.claims_spot: Place | None = None
        self.claims_nothing = False
        self.claims_unread = False
        self.made_without: list[tuple[str, Place]] = []
        self.grains_by: GrainsBy | None = None
        self.stated: dict[str, tuple[str, Place]] = {}
        """Facts by their phrase, with the detail behind a comma."""
        self.loses = ZERO
        self.rates: list[Rate] = []
        self.yields: list[Side] = []
        self.batch_limit: Fraction | None = None
        self.tested: tuple[date, Fraction | None] | None = None
        self.keeps: list[Keeping] = []
        self.offers: list[tuple[str, str, Place]] = []

    def recipe(self, name: str, base: tuple[str, Place] | None) -> Recipe:
        reader, assembly, stated = self.reader, self.assembly, self.stated
        for home, line in assembly.fields:
            _READ[type(line)](self, home, line)
        steps = tuple([read_step(home, step, reader.problems(home)) for home, step in assembly.steps])
        leftovers = None
        if assembly.leftovers is not None:
            home, block = assembly.leftovers
            leftovers = read_leftovers(home, block, reader.problems(home))
        whole = stated.get("whole grain-rich")
        return Recipe(
            name=name,
            key=fold(name),
            home=reader.home,
            base=base,
            number=self.words.get("number", ""),
            course=self.course,
            process=self.process,
            audience=self.words.get("for", ""),
            portions=self.portions,
            portion=self.portion,
            container=self.container,
            claims=tuple(self.claims),
            claims_spot=self.claims_spot,
            claims_nothing=self.claims_nothing,
            made_without=tuple(self.made_without),
            grains_by=self.grains_by,
            whole_grain_rich=None if whole is None else whole[1],
            dessert="grain-based dessert" in stated,
            shared_fryer="shared fryer" in stated,
            loses=self.loses,
            rates=tuple(self.rates),
            yields=tuple(self.yields),
            batch_limit=self.batch_limit,
            per_portion=assembly.header is not None and assembly.header[1].per_portion,
            columns=read_columns(reader, assembly),
            lines=read_lines(reader, assembly),
            steps=steps,
            has_steps=assembly.has_steps,
            serve_with=self.words.get("serve with", ""),
            tested=self.tested,
            keeps=tuple(self.keeps),
            offers=tuple(self.offers),
            not_tcs=stated.get("not tcs"),
            leftovers=leftovers,
            pans=self.words.get("pans", ""),
            broken=assembly.broken | {"credits"} if self.claims_unread else assembly.broken,
            problems=tuple(sorted(reader.own)),
        )

    # ---- fields of one phrase ----

    def _field(self, home: DeclarationId, line: tree.Field) -> None:
        _READ_FIELD[line.name](self, home, line)

    def _words(self, home: DeclarationId, line: tree.Field) -> None:
        self.words[line.name] = line.value.text

    def _course(self, home: DeclarationId, line: tree.Field) -> None:
        self.course = choice_of(line.value, vocabulary.COURSES, "a course", self.reader.problems(home))

    def _process(self, home: DeclarationId, line: tree.Field) -> None:
        word = choice_of(line.value, vocabulary.PROCESSES, "a process", self.reader.problems(home))
        self.process = (word, place_of(home, line.value)) if word else None

    def _offers(self, home: DeclarationId, line: tree.Field) -> None:
        self.offers.append((line.name, line.value.text, place_of(home, line.value)))

    def _fact(self, home: DeclarationId, line: tree.Fact) -> None:
        detail = line.detail.text if line.detail else ""
        self.stated[line.name] = (detail, Place(home, line.start, line.end))

    # ---- portions and batches ----

    def _makes(self, home: DeclarationId, line: tree.Makes) -> None:
        self.portions = number_of(line.number, self.reader.problems(home))
        parts: list[PortionPart] = []
        for part in line.parts:
            quantity = self.reader.quantity(home, part.amount, True)
            if quantity is not None:
                parts.append(PortionPart(quantity, part.name.text if part.name else "", place_of(home, part.amount)))
        self.portion = tuple(parts)

    def _packed_into(self, home: DeclarationId, line: tree.PackedInto) -> None:
        self.container = (line.container.text, place_of(home, line.container))

    def _yields(self, home: DeclarationId, line: tree.Yields) -> None:
        self.yields.extend(self.reader.sides(home, (line.amount, line.equal)))

    def _loses(self, home: DeclarationId, line: tree.Loses) -> None:
        self.loses = share_of(line.share, self.reader.problems(home)) or self.loses

    def _batch_limit(self, home: DeclarationId, line: tree.BatchLimit) -> None:
        self.batch_limit = number_of(line.portions, self.reader.problems(home))

    def _tested(self, home: DeclarationId, line: tree.Tested) -> None:
        problems = self.reader.problems(home)
        on = read_date(line.date, problems)
        portions = number_of(line.portions, problems) if line.portions else None
        self.tested = None if on is None else (on, portions)

    def _keeps(self, home: DeclarationId, line: tree.Keeps) -> None:
        self.keeps.extend(read_keeps(home, line, self.reader.problems(home)))

    def _weighs(self, home: DeclarationId, line: tree.Weighs) -> None:
        weight = self.reader.quantity(home, line.weight)
        if line.per is None:
            if weight is not None:
                self.rates.append(Rate("each", MASS, weight.base, weight.unit in (GRAM, KILOGRAM)))
            return
        per = self.reader.quantity(home, line.per, True)
        if weight is None or per is None:
            return
        if weight.dimension != MASS or per.dimension not in (VOLUME, COUNT):
            message = "This line gives no weight for a volume or a piece."
            help = "write it like `weighs 245 g per cup`"
            self.reader.problems(home).append(Problem(line.start, line.end, "dimension-mismatch", message, help=help))
            return
        self.rates.append(Rate(node_of(per.unit), MASS, weight.base / per.base, weight.unit in (GRAM, KILOGRAM)))

    # ---- what is claimed and promised ----

    def _claims(self, home: DeclarationId, line: tree.Claims) -> None:
        self.claims_spot = Place(home, line.start, line.end)
        problems = self.reader.problems(home)
        claimed: set[Component] = set()
        for credit in line.credits:
            read = read_credit(credit.amount, credit.component, problems)
            if read is None:
                self.claims_unread = True
                continue
            component, amount = read
            spot = Place(home, credit.amount.start, credit.component.end)
            if component in claimed:
                message = f"{capital(component.title)} is claimed twice in one line."
                help = "keep one of the two, or add them up"
                problems.append(Problem(spot.start, spot.end, "repeated-field", message, help=help))
                continue
            claimed.add(component)
            self.claims.append(Claim(component, amount, spot))

    def _credits_nothing(self, home: DeclarationId, line: tree.CreditsNothing) -> None:
        self.claims_spot = Place(home, line.start, line.end)
        self.claims_nothing = True

    def _made_without(self, home: DeclarationId, line: tree.Allergens) -> None:
        promised = read_promise(line.items, self.reader.problems(home))
        self.made_without.extend((name, place_of(home, word)) for name, word in promised)

    def _grains_by(self, home: DeclarationId, line: tree.GrainsBy) -> None:
        problems = self.reader.problems(home)
        method = choice_of(line.method, vocabulary.GRAIN_METHODS, "a way to credit grains", problems)
        group = line.group.text.upper() if line.group else ""
        self.grains_by = GrainsBy(method, group, Place(home, line.start, line.end)) if method else None


_READ: Final[dict[type, Callable[[_Builder, DeclarationId, Any], None]]] = {
    tree.Field: _Builder._field,
    tree.Fact: _Builder._fact,
    tree.Makes: _Builder._makes,
    tree.PackedInto: _Builder._packed_into,
    tree.Yields: _Builder._yields,
    tree.Loses: _Builder._loses,
    tree.BatchLimit: _Builder._batch_limit,
    tree.Tested: _Builder._tested,
    tree.Keeps: _Builder._keeps,
    tree.Weighs: _Builder._weighs,
    tree.Claims: _Builder._claims,
    tree.CreditsNothing: _Builder._credits_nothing,
    tree.Allergens: _Builder._made_without,
    tree.GrainsBy: _Builder._grains_by,
}
"""How a line of each form is read. A form that stands here and nowhere else would be read by nobody: a test reads an
example of each."""

_READ_FIELD: Final[dict[str, Callable[[_Builder, DeclarationId, tree.Field], None]]] = {
    "number": _Builder._words,
    "for": _Builder._words,
    "serve with": _Builder._words,
    "pans": _Builder._words,
    "course": _Builder._course,
    "process": _Builder._process,
    "offers": _Builder._offers,
    "tray for": _Builder._offers,
}
