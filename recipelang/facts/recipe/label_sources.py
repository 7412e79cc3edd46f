"""What a recipe's allergens rest on: for each food in it, whether somebody read a label, and when."""

from __future__ import annotations

from datetime import date

from recipelang.evaluate.facts import Facts, fact, library_fact
from recipelang.evaluate.names import declaration_of, is_food, is_recipe, resolve
from recipelang.facts.food.labels import DEFAULT, READ, UNDATED, UNSTATED, standing_of
from recipelang.facts.recipe.circles import in_circle
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.model.names import Ref
from recipelang.standards.load import year_start
from recipelang.text.record import Record
from recipelang.text.school_year import DEFAULT_SCHOOL_YEAR


class LabelSource(Record):
    """A food of a recipe, and what its allergen statement rests on."""

    ref: Ref
    name: str
    standing: str
    read: date | None


class LabelSources(Record):
    """All foods of a recipe, each once, in the order in which it names them."""

    foods: tuple[LabelSource, ...]

    @property
    def read(self) -> tuple[LabelSource, ...]:
        """Foods of which somebody read the label, the oldest reading first."""
        return tuple(sorted((one for one in self.foods if one.read is not None), key=lambda one: one.read or date.max))

    def names(self, standing: str) -> tuple[str, ...]:
        return tuple(one.name for one in self.foods if one.standing == standing)

    @property
    def with_labels(self) -> int:
        """How many of the foods have a label that can be read."""
        return sum(one.standing in (READ, UNDATED, DEFAULT, UNSTATED) for one in self.foods)


@fact
def label_sources_of(facts: Facts, ref: Ref) -> LabelSources:
    """The foods of a recipe and of the recipes in it, alternatives and optional ones among them. Names that mean nothing
    are left out: they are unknown, and said to be."""
    found: dict[Ref, LabelSource] = {}
    for line in recipe_of(facts, ref).lines:
        target = resolve(facts, line.key, within=ref)
        if target is None or in_circle(facts, ref, target):
            continue
        if is_recipe(facts, target):
            found.update({one.ref: one for one in label_sources_of(facts, target).foods if one.ref not in found})
        elif is_food(facts, target) and target not in found:
            standing = standing_of(facts, target)
            found[target] = LabelSource(target, declaration_of(facts, target).name, standing.kind, standing.read)
    return LabelSources(tuple(found.values()))


@library_fact
def first_day(facts: Facts) -> date:
    """The day to which the age of labels is counted where no menu says when a food is served: the school year's first."""
    settings = facts.settings
    return year_start(settings.asked_year or settings.school_year or DEFAULT_SCHOOL_YEAR)


def is_too_old(facts: Facts, read: date, on: date) -> bool:
    """Whether a label is older on a day than the library lets one be."""
    oldest = facts.settings.oldest_label
    return oldest is not None and oldest.until(read) < on
