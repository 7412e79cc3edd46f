"""From a food's lines to what it is: every line is read once, what can't be used is a problem and stays unknown."""

from __future__ import annotations

from datetime import date
from typing import Final

from recipelang.findings.nearest import nearest
from recipelang.model import vocabulary
from recipelang.model.allergen_lines import read_allergens
from recipelang.model.dates import date_within, read_date
from recipelang.model.food import (
    Crediting,
    CreditLine,
    Food,
    GrainShare,
    Labels,
    Nutrition,
    Parent,
    Purchase,
    Safety,
)
from recipelang.model.measures import Measures, Rate, node_of
from recipelang.model.nutrition_lines import read_nutrition
from recipelang.model.shared_lines import read_credit, read_price
from recipelang.model.values import Problems, condition_of, number_of, quantity_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.table import (
    COUNT,
    EACH,
    GRAM,
    KILOGRAM,
    MASS,
    PACK,
    TIME,
    VOLUME,
    WORD,
    Unit,
)


def build_food(name: str, body: Body, own_units: tuple[Rate, ...] = ()) -> Food:
    """The food that a declaration's lines describe; what can't be used is a problem and stays unknown."""
    return _Builder(name, body, own_units).food()


class _Builder:
    """Collects a food's lines. One instance for one declaration."""

    def __init__(self, name: str, body: Body, own_units: tuple[Rate, ...]) -> None:
        self.name = name
        self.body = body
        self.problems: Problems = []
        self.rates: list[Rate] = list(own_units)
        self.tolerances: list[tuple[str, Fraction]] = []
        self.lines: list[CreditLine] = []
        self.facts: set[str] = set()
        self.contains: dict[str, list[str]] = {}
        self.may_contain: dict[str, list[str]] = {}
        self.stated = False
        self.label_unread = False
        self.keeps: list[tuple[str, Quantity]] = []

    def food(self) -> Food:
        body = self.body
        group: str | None = None
        creditable: GrainShare | None = None
        other: tuple[Fraction | None, Fraction | None, Quantity | None] = (None, None, None)
        nutrition: Nutrition | None = None
        parent: Parent | None = None
        prices: list[tuple[Fraction, Quantity]] = []
        has_pack = False
        milk: tuple[str, str] | None = None
        caffeine: tuple[Fraction, Quantity] | None = None
        evidence = packed_in = arrives = ""
        evidence_date: date | None = None
        label_read: date | None = None
        frozen = False
        ph: Fraction | None = None
        activity: Fraction | None = None
        says_credit = False
        credit_unread = bool(body.broken & _CREDIT_WORDS)
        measures_unread = bool(body.broken & _MEASURE_WORDS)
        # `64% off fresh carrots` begins with no word, but with the share
        parent_unread = "left from" in body.broken or any(word[:1].isdigit() for word in body.broken)
        for line in body.lines:
            kind = type(line)
            known_problems = len(self.problems)
            if kind is tree.Fact:
                self.facts.add(line.name)
                if line.name == "packed in" and line.detail is not None:
                    packed_in = self._choice(line.detail, vocabulary.PACKING_LIQUIDS, "a packing liquid")
            elif kind is tree.FoodCredit:
                says_credit = True
                self._credit(line)
            elif kind is tree.CreditsNothing:
                says_credit = True
            elif kind is tree.Weighs:
                self._weighs(line)
            elif kind is tree.Pack:
                has_pack = True
                self._pack(line)
            elif kind is tree.Price:
                price = read_price(line, self.problems)
                prices += [price] if price is not None else []
            elif kind is tree.Allergens:
                self._allergens(line)
            elif kind is tree.LabelRead:
                label_read = read_date(line.date, self.problems)
            elif kind is tree.Nutrition:
                nutrition = read_nutrition(line, self.problems)
            elif kind is tree.GrainGroup:
                says_credit = True
                group = line.group.text.upper()
            elif kind is tree.CreditableGrain:
                says_credit = True
                creditable = self._creditable(line)
            elif kind is tree.OtherGrain:
                other = self._other(line)
            elif kind is tree.EdibleShare or kind is tree.LeftFrom:
                share = share_of(line.share, self.problems)
                parent_unread |= share is None
                if share is not None:
                    words = line.parent
                    parent = Parent(words.text, share, kind is tree.LeftFrom, words.start, words.end)
            elif kind is tree.Arrives:
                arrives = self._choice(line.state, vocabulary.ARRIVALS, "a way foods arrive")
                frozen = line.frozen
            elif kind is tree.Acidity:
                ph = number_of(line.ph, self.problems) if line.ph else ph
                activity = number_of(line.water_activity, self.problems) if line.water_activity else activity
            elif kind is tree.Keeps:
                self._keeps(line)
            elif kind is tree.Milk:
                milk = (_milk_fat(line.fat.text), line.flavor.text.casefold() if line.flavor else "")
            elif kind is tree.Caffeine:
                caffeine = self._caffeine(line)
            elif kind is tree.Field and line.name == "evidence":
                evidence, evidence_date = self._evidence(line)
            if len(self.problems) > known_problems:
                credit_unread |= kind in _CREDIT_LINES
                measures_unread |= kind is tree.Weighs or kind is tree.Pack
        crediting = Crediting(
            tuple(self.lines), group, creditable, *other,
            says_nothing=not says_credit, broken=credit_unread,
            whole_grain_rich="whole grain-rich" in self.facts, dessert="grain-based dessert" in self.facts,
            juice="juice" in self.facts, yogurt="yogurt" in self.facts, packed_in=packed_in,
        )  # fmt: skip
        # a statement that can't be read in full is unknown: what it left out may be what a child is allergic to
        unread = self.label_unread or bool(body.broken & _LABEL_WORDS)
        labels = Labels(
            _frozen(self.contains), _frozen(self.may_contain), self.stated and not unread, unread, label_read
        )
        purchase = Purchase(
            prices[0][0] if prices else None, prices[0][1] if prices else None, has_pack,
            "price" in body.broken or parent_unread, "usda foods" in self.facts, tuple(prices[1:]),
        )  # fmt: skip
        tcs = True if "tcs" in self.facts else False if "not tcs" in self.facts else None
        return Food(
            self.name, Measures(self.rates, tuple(self.tolerances), measures_unread), crediting, labels, nutrition, purchase,
            Safety(arrives, frozen, tcs, ph, activity, tuple(self.keeps)), parent, "liquid" in self.facts, milk, caffeine,
            evidence, evidence_date, "breakfast cereal" in self.facts, tuple(self.problems),
        )  # fmt: skip

    # ---- lines ----

    def _choice(self, word: Word, choices: tuple[str, ...], what: str) -> str:
        phrase = " ".join(word.text.casefold().split())
        if phrase in choices:
            return phrase
        near = nearest(phrase, choices, 1)
        self.problems.append(
            Problem(word.start, word.end, "syntax", f"`{word.text}` is not {what} that the notation knows.",
                    near[0] if near else None, f"write one of: {', '.join(choices)}")
        )  # fmt: skip
        return ""

    def _credit(self, line: tree.FoodCredit) -> None:
        problems = self.problems
        credit = read_credit(line.amount, line.component, problems)
        if credit is None:
            return
        component, amount = credit
        if line.per is None:
            help = f"write for how much, as in `credits {line.amount.text} {line.component.text} per 2 oz`"
            problems.append(
                Problem(line.start, line.end, "syntax", "This credit doesn't say for how much of the food.", help=help)
            )
            return
        per = quantity_of(line.per, problems, number_optional=True)
        if per is None:
            return
        needs = condition_of(line.condition, problems) if line.condition is not None else None
        self.lines.append(
            CreditLine(
                component,
                amount,
                per,
                line.basis,
                line.liquid,
                needs,
                line.start,
                line.end,
                node_of(per.unit),
                amount / per.base,
            )
        )

    def _weighs(self, line: tree.Weighs) -> None:
        weight = quantity_of(line.weight, self.problems)
        per = Quantity(ONE, EACH) if line.per is None else quantity_of(line.per, self.problems, True)
        if weight is None or per is None:
            return
        if weight.dimension != MASS:
            self.problems.append(
                Problem(line.weight.start, line.weight.end, "dimension-mismatch",
                        f"`{line.weight.text}` is not a weight.", help="write it in oz, lb, g or kg")
            )  # fmt: skip
            return
        node = node_of(per.unit)
        if node == MASS:
            self.problems.append(
                Problem(line.start, line.end, "dimension-mismatch", "This line gives a weight for a weight.",
                        help="write for which volume, piece or pack, as in `weighs 245 g per cup`")
            )  # fmt: skip
            return
        base = per.base if per.dimension in (VOLUME, COUNT) else per.value
        self.rates.append(Rate(node, MASS, weight.base / base, weight.unit in (GRAM, KILOGRAM)))
        if line.within is not None:
            share = share_of(line.within, self.problems)
            if share is not None:
                self.tolerances.append((node, share))

    def _pack(self, line: tree.Pack) -> None:
        amounts = [quantity_of(word, self.problems) for word in line.amounts]
        if any(amount is None for amount in amounts):
            return
        outer: Unit | None = None
        for number, amount in enumerate(amounts):
            assert amount is not None
            node = node_of(amount.unit)
            base = amount.value if amount.dimension in (PACK, WORD) else amount.base
            metric = amount.unit in (GRAM, KILOGRAM)
            if number == 0:
                if node != "case":
                    self.rates.append(Rate("case", node, base, metric))
                elif amount.value != 1:
                    word = line.amounts[0]
                    self.problems.append(
                        Problem(word.start, word.end, "syntax", "A pack line speaks of one case.", help="write what one "
                                "case holds, as in `pack 4 tubs of 5 lb`")
                    )  # fmt: skip
            elif outer is not None:
                self.rates.append(Rate(node_of(outer), node, base, metric))
            outer = amount.unit

    def _allergens(self, line: tree.Allergens) -> None:
        target = self.contains if line.verb == "contains" else self.may_contain
        if line.verb == "contains":
            self.stated = True
        before = len(self.problems)
        read_allergens(line.items, target, self.problems)
        self.label_unread = self.label_unread or len(self.problems) > before

    def _creditable(self, line: tree.CreditableGrain) -> GrainShare | None:
        if line.per is None:
            share = share_of(line.amount, self.problems)
            if share is None:
                return None
            return GrainShare(share, None, None, ZERO if line.kind == "enriched" else ONE)
        grams = quantity_of(line.amount, self.problems)
        per = quantity_of(line.per, self.problems, True)
        if grams is None or per is None or not self._is_mass(grams, line.amount):
            return None
        whole = ZERO
        if line.whole is not None:
            part = quantity_of(line.whole, self.problems)
            if part is None or not self._is_mass(part, line.whole):
                return None
            whole = part.base / grams.base
            if whole > 1:
                self.problems.append(
                    Problem(line.whole.start, line.whole.end, "impossible-amount",
                            f"{line.whole.text} of whole grain is more than the {line.amount.text} of creditable grain.")
                )  # fmt: skip
                return None
        return GrainShare(None, grams.base, per, whole)

    def _other(self, line: tree.OtherGrain) -> tuple[Fraction | None, Fraction | None, Quantity | None]:
        if line.per is None:
            return share_of(line.amount, self.problems), None, None
        grams = quantity_of(line.amount, self.problems)
        per = quantity_of(line.per, self.problems, True)
        if grams is None or per is None or not self._is_mass(grams, line.amount):
            return None, None, None
        return None, grams.base, per

    def _is_mass(self, quantity: Quantity, word: Word) -> bool:
        if quantity.dimension == MASS:
            return True
        self.problems.append(
            Problem(word.start, word.end, "dimension-mismatch", f"`{word.text}` is not a weight.",
                    help="write it in g or oz")
        )  # fmt: skip
        return False

    def _keeps(self, line: tree.Keeps) -> None:
        for item in line.items:
            time = quantity_of(item.time, self.problems)
            place = self._choice(item.place, vocabulary.KEEPING_PLACES, "a way to keep food")
            if time is not None and time.dimension != TIME:
                self.problems.append(
                    Problem(item.time.start, item.time.end, "dimension-mismatch", f"`{item.time.text}` is not a time.",
                            help="write days or hours, as in `keeps 5 d cold`")
                )  # fmt: skip
            elif time is not None and place:
                self.keeps.append((place, time))

    def _caffeine(self, line: tree.Caffeine) -> tuple[Fraction, Quantity] | None:
        amount = quantity_of(line.amount, self.problems)
        per = quantity_of(line.per, self.problems, True)
        if amount is None or per is None or not self._is_mass(amount, line.amount):
            return None
        return amount.base * 1000, per

    def _evidence(self, line: tree.Field) -> tuple[str, date | None]:
        phrase = " ".join(line.value.text.casefold().split())
        known = next((word for word in vocabulary.EVIDENCE if phrase.startswith(word)), "")
        if not known:
            self.problems.append(
                Problem(line.value.start, line.value.end, "syntax", f"`{line.value.text}` is no evidence the notation "
                        "knows.", help=f"write one of: {', '.join(vocabulary.EVIDENCE)}")
            )  # fmt: skip
        return known, date_within(line.value, self.problems)


_CREDIT_WORDS: Final = frozenset({"credits", "grain group", "creditable grain", "other grain"})
_MEASURE_WORDS: Final = frozenset({"weighs", "each weighs", "pack"})
_CREDIT_LINES: Final = (tree.FoodCredit, tree.GrainGroup, tree.CreditableGrain, tree.OtherGrain)
_LABEL_WORDS: Final = frozenset({"contains", "may contain"})


def _frozen(found: dict[str, list[str]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((name, tuple(kinds)) for name, kinds in found.items())


def _milk_fat(text: str) -> str:
    phrase = "".join(text.casefold().split())
    return {"skim": "fat-free", "nonfat": "fat-free", "low-fat": "1%", "reduced-fat": "2%"}.get(phrase, phrase)
