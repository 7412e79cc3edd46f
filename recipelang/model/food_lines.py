"""From a food's lines to what it is: every line is read once, what can't be used is a problem and stays unknown."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, Final

from recipelang.model import vocabulary
from recipelang.model.allergen_lines import read_allergens
from recipelang.model.dates import date_within, read_date
from recipelang.model.food import (
    Crediting,
    CreditLine,
    Food,
    GrainShare,
    Item,
    Labels,
    Nutrition,
    Parent,
    Purchase,
    Safety,
)
from recipelang.model.grain_lines import grain_share, is_mass, other_grain
from recipelang.model.item_lines import read_item
from recipelang.model.measure_lines import read_pack, read_weighs
from recipelang.model.measures import Measures, Rate, node_of
from recipelang.model.nutrition_lines import read_nutrition
from recipelang.model.process_lines import read_lives
from recipelang.model.shared_lines import read_credit, read_price
from recipelang.model.values import Problems, arrival_of, choice_of, condition_of, number_of, quantity_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.tree import Body, Problem, Word
from recipelang.units.amount import Quantity
from recipelang.units.fraction import Fraction


def build_food(name: str, body: Body, own_units: tuple[Rate, ...] = ()) -> Food:
    """The food that a declaration's lines describe; what can't be used is a problem and stays unknown."""
    return _Builder(name, body, own_units).food()


class _Builder:
    """What a food's lines have said so far: one method a line form. Of two lines of a form the later counts."""

    def __init__(self, name: str, body: Body, own_units: tuple[Rate, ...]) -> None:
        self.name = name
        self.body = body
        self.problems: Problems = []
        self.stated: set[str] = set()
        """Facts by their phrase."""
        self.rates: list[Rate] = list(own_units)
        self.tolerances: list[tuple[str, Fraction]] = []
        self.measures_unread = bool(body.broken & _MEASURE_WORDS)
        self.credits: list[CreditLine] = []
        self.says_credit = False
        self.credit_unread = bool(body.broken & _CREDIT_WORDS)
        self.group: str | None = None
        self.creditable: GrainShare | None = None
        self.other: tuple[Fraction | None, Fraction | None, Quantity | None] = (None, None, None)
        self.packed_in = ""
        self.sold_as = ""
        self.also_called: list[str] = []
        self.import_reason = ""
        self.import_date: date | None = None
        self.contains: dict[str, list[str]] = {}
        self.may_contain: dict[str, list[str]] = {}
        self.says_contains = False
        # a statement that can't be read in full is unknown: what it left out may be what a child is allergic to
        self.label_unread = bool(body.broken & _LABEL_WORDS)
        self.label_read: date | None = None
        self.nutrition: Nutrition | None = None
        self.prices: list[tuple[Fraction, Quantity]] = []
        self.has_pack = False
        self.items: list[Item] = []
        self.parent: Parent | None = None
        # `64% off fresh carrots` begins with no word, but with the share
        self.parent_unread = "left from" in body.broken or any(word[:1].isdigit() for word in body.broken)
        self.arrives = ""
        self.frozen = False
        self.undated = ""
        self.is_assessed = False
        self.ph: Fraction | None = None
        self.activity: Fraction | None = None
        self.keeps: list[tuple[str, Quantity]] = []
        self.milk: tuple[str, str] | None = None
        self.caffeine: tuple[Fraction, Quantity] | None = None
        self.evidence = ""
        self.evidence_date: date | None = None

    def food(self) -> Food:
        for line in self.body.lines:
            kind = type(line)
            known_problems = len(self.problems)
            _READ[kind](self, line)
            if len(self.problems) > known_problems:
                self.credit_unread |= kind in _CREDIT_LINES
                self.measures_unread |= kind is tree.Weighs or kind is tree.Pack
        return Food(
            name=self.name,
            also_called=tuple(self.also_called),
            measures=Measures(self.rates, tuple(self.tolerances), self.measures_unread),
            crediting=self._crediting(),
            labels=Labels(
                contains=_frozen(self.contains),
                may_contain=_frozen(self.may_contain),
                stated=self.says_contains and not self.label_unread,
                broken=self.label_unread,
                read=self.label_read,
            ),
            nutrition=self.nutrition,
            purchase=self._purchase(),
            safety=Safety(
                arrives=self.arrives,
                frozen=self.frozen,
                tcs=self._tcs(),
                ph=self.ph,
                water_activity=self.activity,
                keeps=tuple(self.keeps),
                undated=self.undated,
                assessed=self.is_assessed,
            ),
            parent=self.parent,
            liquid="liquid" in self.stated,
            milk=self.milk,
            caffeine=self.caffeine,
            evidence=self.evidence,
            evidence_date=self.evidence_date,
            cereal="breakfast cereal" in self.stated,
            sold_as=self.sold_as,
            problems=tuple(self.problems),
        )

    def _crediting(self) -> Crediting:
        share, grams, per = self.other
        return Crediting(
            lines=tuple(self.credits),
            group=self.group,
            creditable=self.creditable,
            other_share=share,
            other_grams=grams,
            other_per=per,
            says_nothing=not self.says_credit,
            broken=self.credit_unread,
            whole_grain_rich="whole grain-rich" in self.stated,
            dessert="grain-based dessert" in self.stated,
            juice="juice" in self.stated,
            untreated="untreated" in self.stated,
            yogurt="yogurt" in self.stated,
            packed_in=self.packed_in,
        )

    def _purchase(self) -> Purchase:
        price, per = self.prices[0] if self.prices else (None, None)
        return Purchase(
            price=price,
            per=per,
            has_pack=self.has_pack,
            broken="price" in self.body.broken or self.parent_unread,
            commodity="usda foods" in self.stated,
            origin="imported" if "imported" in self.stated else "domestic" if "domestic" in self.stated else "",
            import_reason=self.import_reason,
            import_date=self.import_date,
            items=tuple(self.items),
            more=tuple(self.prices[1:]),
        )

    def _tcs(self) -> bool | None:
        return True if "tcs" in self.stated else False if "not tcs" in self.stated else None

    # ---- facts and fields ----

    def _also_called(self, line: tree.AlsoCalled) -> None:
        self.also_called += (word.text for word in line.names)

    def _fact(self, line: tree.Fact) -> None:
        self.stated.add(line.name)
        if line.detail is None:
            return
        if line.name == "juice":
            self.stated.add("untreated")
        elif line.name == "no date mark":
            self.undated = choice_of(line.detail, vocabulary.UNDATED, "exempt from date marking", self.problems)
        elif line.name == "not tcs":
            self.is_assessed = True
        elif line.name == "sold as":
            self.sold_as = choice_of(line.detail, vocabulary.SOLD_AS, "a food with limits of its own", self.problems)
        elif line.name == "imported":
            self._imported(line.detail)
        elif line.name == "item":
            self.items.append(read_item(line.detail, self.problems))
        elif line.name == "packed in":
            self.packed_in = choice_of(line.detail, vocabulary.PACKING_LIQUIDS, "a packing liquid", self.problems)

    def _imported(self, detail: Word) -> None:
        reason, _, _ = detail.text.partition(",")
        phrase = Word(reason.rstrip(), detail.start)
        self.import_reason = choice_of(phrase, vocabulary.IMPORT_REASONS, "a reason to import", self.problems)
        self.import_date = date_within(detail, self.problems)

    def _field(self, line: tree.Field) -> None:
        _READ_FIELD[line.name](self, line)

    def _evidence(self, line: tree.Field) -> None:
        phrase = " ".join(line.value.text.casefold().split())
        self.evidence = next((word for word in vocabulary.EVIDENCE if phrase.startswith(word)), "")
        if not self.evidence:
            message = f"`{line.value.text}` is no evidence the notation knows."
            help = f"write one of: {', '.join(vocabulary.EVIDENCE)}"
            self.problems.append(Problem(line.value.start, line.value.end, "syntax", message, help=help))
        self.evidence_date = date_within(line.value, self.problems)

    def _price(self, line: tree.Price) -> None:
        price = read_price(line, self.problems)
        if price is not None:
            self.prices.append(price)

    def _label_read(self, line: tree.LabelRead) -> None:
        self.label_read = read_date(line.date, self.problems)

    def _nutrition(self, line: tree.Nutrition) -> None:
        self.nutrition = read_nutrition(line, self.problems)

    def _parent(self, line: tree.EdibleShare | tree.LeftFrom) -> None:
        share = share_of(line.share, self.problems)
        self.parent_unread |= share is None
        if share is not None:
            words = line.parent
            self.parent = Parent(words.text, share, type(line) is tree.LeftFrom, words.start, words.end)

    def _arrives(self, line: tree.Arrives) -> None:
        self.frozen = line.frozen
        self.arrives = arrival_of(line.state, self.problems)

    def _acidity(self, line: tree.Acidity) -> None:
        self.ph = number_of(line.ph, self.problems) if line.ph else self.ph
        self.activity = number_of(line.water_activity, self.problems) if line.water_activity else self.activity

    def _keeps(self, line: tree.Keeps) -> None:
        self.keeps.extend((place, time) for place, time, _ in read_lives(line, self.problems))

    def _milk(self, line: tree.Milk) -> None:
        self.milk = (_milk_fat(line.fat.text), line.flavor.text.casefold() if line.flavor else "")

    def _caffeine(self, line: tree.Caffeine) -> None:
        amount = quantity_of(line.amount, self.problems)
        per = quantity_of(line.per, self.problems, True)
        self.caffeine = None
        if amount is not None and per is not None and is_mass(amount, line.amount, self.problems):
            self.caffeine = (amount.base * 1000, per)

    # ---- credits ----

    def _credits_nothing(self, line: tree.CreditsNothing) -> None:
        self.says_credit = True

    def _grain_group(self, line: tree.GrainGroup) -> None:
        self.says_credit = True
        self.group = line.group.text.upper()

    def _credit(self, line: tree.FoodCredit) -> None:
        self.says_credit = True
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
        self.credits.append(
            CreditLine(
                component=component,
                amount=amount,
                per=per,
                basis=line.basis,
                liquid=line.liquid,
                served=line.served,
                needs=needs,
                start=line.start,
                end=line.end,
                node=node_of(per.unit),
                rate=amount / per.base,
            )
        )

    def _weighs(self, line: tree.Weighs) -> None:
        rate = read_weighs(line, self.problems)
        if rate is not None:
            self.rates.append(rate)
            share = share_of(line.within, self.problems) if line.within is not None else None
            if share is not None:
                self.tolerances.append((rate.source, share))

    def _pack(self, line: tree.Pack) -> None:
        self.has_pack = True
        self.rates.extend(read_pack(line, self.problems))

    def _allergens(self, line: tree.Allergens) -> None:
        target = self.contains if line.verb == "contains" else self.may_contain
        if line.verb == "contains":
            self.says_contains = True
        before = len(self.problems)
        read_allergens(line.items, target, self.problems)
        self.label_unread = self.label_unread or len(self.problems) > before

    def _creditable(self, line: tree.CreditableGrain) -> None:
        self.says_credit = True
        self.creditable = grain_share(line, self.problems)

    def _other(self, line: tree.OtherGrain) -> None:
        self.other = other_grain(line, self.problems)


_READ: Final[dict[type, Callable[[_Builder, Any], None]]] = {
    tree.Fact: _Builder._fact,
    tree.Field: _Builder._field,
    tree.FoodCredit: _Builder._credit,
    tree.CreditsNothing: _Builder._credits_nothing,
    tree.Weighs: _Builder._weighs,
    tree.Pack: _Builder._pack,
    tree.Price: _Builder._price,
    tree.Allergens: _Builder._allergens,
    tree.AlsoCalled: _Builder._also_called,
    tree.LabelRead: _Builder._label_read,
    tree.Nutrition: _Builder._nutrition,
    tree.GrainGroup: _Builder._grain_group,
    tree.CreditableGrain: _Builder._creditable,
    tree.OtherGrain: _Builder._other,
    tree.EdibleShare: _Builder._parent,
    tree.LeftFrom: _Builder._parent,
    tree.Arrives: _Builder._arrives,
    tree.Acidity: _Builder._acidity,
    tree.Keeps: _Builder._keeps,
    tree.Milk: _Builder._milk,
    tree.Caffeine: _Builder._caffeine,
}
"""How a line of each form is read. A test reads an example of each."""

_READ_FIELD: Final[dict[str, Callable[[_Builder, tree.Field], None]]] = {"evidence": _Builder._evidence}

_CREDIT_WORDS: Final = frozenset({"credits", "grain group", "creditable grain", "other grain"})
_MEASURE_WORDS: Final = frozenset({"weighs", "each weighs", "pack"})
_CREDIT_LINES: Final = (tree.FoodCredit, tree.GrainGroup, tree.CreditableGrain, tree.OtherGrain)
_LABEL_WORDS: Final = frozenset({"contains", "may contain"})


def _frozen(found: dict[str, list[str]]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return tuple((name, tuple(kinds)) for name, kinds in found.items())


def _milk_fat(text: str) -> str:
    phrase = "".join(text.casefold().split())
    return {"skim": "fat-free", "nonfat": "fat-free", "low-fat": "1%", "reduced-fat": "2%"}.get(phrase, phrase)
