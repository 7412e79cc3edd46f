"""Every computed figure of a recipe for people: what a portion credits, holds, costs, and what goes in."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts
from recipelang.evaluate.unknown import Gap, Total
from recipelang.facts.food.labels import DEFAULT, UNDATED, UNSTATED
from recipelang.facts.recipe.allergens import Allergens, allergens_of
from recipelang.facts.recipe.batch import Yield, lines_of, yield_of
from recipelang.facts.recipe.container_fill import Fill, fill_of
from recipelang.facts.recipe.cost import Cost, cost_of
from recipelang.facts.recipe.credits import Credits, credits_of
from recipelang.facts.recipe.derivation import credit_text, exact_credit_text
from recipelang.facts.recipe.label_sources import LabelSources, label_sources_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.nutrients import Nutrients, nutrients_of
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import scaled_lines
from recipelang.facts.recipe.sizes import plan_of
from recipelang.findings.wording import counted, listed, shortlist
from recipelang.model.components import ADDITIONAL, VEGETABLE
from recipelang.model.dates import day_text
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.model.vocabulary import NUTRIENT_TITLES
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.columns import table
from recipelang.output.printing import print_blocks
from recipelang.rules.errors import ALLERGENS, SAFETY, errors_of
from recipelang.text.record import Record
from recipelang.units.amount import fluid_ounces_text, mass_text, quantity_text, volume_text
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.numbers import decimal_text, number_text


def print_recipes(facts: Facts, refs: list[Ref], portions: Fraction | None, per: str) -> None:
    """Recipes on standard output, one after the other."""
    print_blocks([recipe_lines(facts, ref, portions, per) for ref in refs])


def recipe_lines(facts: Facts, ref: Ref, portions: Fraction | None, per: str) -> list[str]:
    """All figures of one recipe, heading by heading."""
    recipe = recipe_of(facts, ref)
    title, *sections = recipe_sections(facts, ref, portions, per)
    lines = [title.heading, *error_note(facts, ref), *title.lines]
    for section in sections:
        lines += ["", section.heading, *section.lines]
    if portions and recipe.batch_limit:
        plan = plan_of(recipe, portions)
        lines.append(
            f"  in {counted(plan.number, 'batch', 'batches')} of {number_text(plan.portions)} portions "
            f"(at most {number_text(recipe.batch_limit)})"
        )
    return lines


def error_note(facts: Facts, ref: Ref) -> list[str]:
    """A line that says how many errors of safety and of allergens a recipe has; none where it has none."""
    counts = [
        counted(number, f"{title} error")
        for area, title in ((SAFETY, "safety"), (ALLERGENS, "allergen"))
        if (number := errors_of(facts, ref, area))
    ]
    return [f"  {listed(counts)}: run `recipelang check`"] if counts else []


class Section(Record):
    """A heading and the lines below it."""

    heading: str
    lines: tuple[str, ...]


INGREDIENTS = "Ingredients"


def recipe_sections(facts: Facts, ref: Ref, portions: Fraction | None, per: str) -> list[Section]:
    """All figures of one recipe by heading: the portion's first, `INGREDIENTS` last."""
    recipe = recipe_of(facts, ref)
    factor = portions / recipe.portions if portions and recipe.portions else ONE
    fill = _fill(fill_of(facts, ref))
    return [
        Section(_title(recipe, portions), tuple(_portion(yield_of(facts, ref), recipe, lines_of(facts, ref), factor))),
        Section("Credits of a portion", tuple(_credits(credits_of(facts, ref)))),
        Section("Allergens", tuple(_allergens(allergens_of(facts, ref), label_sources_of(facts, ref)))),
        Section(f"Nutrients of a {per}", tuple(_nutrients(nutrients_of(facts, ref), per, factor))),
        Section("Cost", tuple(_cost(cost_of(facts, ref), factor))),
        *([Section("Containers", tuple(fill))] if fill else []),
        Section(INGREDIENTS, tuple(_ingredients(facts, ref, recipe, factor))),
    ]


def _title(recipe: Recipe, portions: Fraction | None) -> str:
    count = portions or recipe.portions
    size = " and ".join(
        f"{quantity_text(part.quantity)}{' ' + part.name if part.name else ''}" for part in recipe.portion
    )
    told = f"{number_text(count)} portions" if count else "portions unknown"
    return f"{recipe.name}: {told}{' of ' + size if size else ''}"


def _portion(result: Yield, recipe: Recipe, lines: tuple[Measured, ...], factor: Fraction) -> list[str]:
    rows: list[list[str]] = []
    if result.portion_mass is not None or result.portion_volume is not None:
        rows.append(["portion", *_mass_and_volume(result.portion_mass, result.portion_volume), _beside(recipe, lines)])
    mass = None if result.mass.known is None else result.mass.known * factor
    volume = None if result.volume.known is None else result.volume.known * factor
    if mass is not None or volume is not None:
        rows.append(["batch", *_mass_and_volume(mass, volume)])
    missing = _missing((*result.mass.missing,))
    if missing:
        rows.append(["", f"weight without {missing}"])
    if recipe.process is not None:
        rows.append(["process", recipe.process[0]])
    return table(rows)


def _beside(recipe: Recipe, lines: tuple[Measured, ...]) -> str:
    """How much of a portion's weight stands beside it: its volume is without that."""
    side = [one for one in lines if one.line.on_the_side and not one.line.alternative]
    grams = [one.grams * (1 - one.line.discard) for one in side if one.grams is not None]
    if not side or not recipe.portions or len(grams) < len(side):
        return ""
    return f"{mass_text(sum(grams, ZERO) / recipe.portions)} of it on the side"


def _mass_and_volume(grams: Fraction | None, cups: Fraction | None) -> list[str]:
    weight = "weight unknown" if grams is None else f"{mass_text(grams)} ({decimal_text(grams, 0)} g)"
    volume = "volume unknown" if cups is None else volume_text(cups)
    return [weight, volume]


def _missing(gaps: tuple[Gap, ...]) -> str:
    return shortlist(dict.fromkeys(gap.name for gap in gaps))


def _credits(credits: Credits) -> list[str]:
    rows: list[list[str]] = []
    for row in credits.rows:
        component = row.component
        name = component.title
        if component.name == VEGETABLE:
            name = "vegetables, all" if component.subgroup is None else f"  {component.subgroup}"
            name = "  additional" if component.subgroup == ADDITIONAL else name
        shown = credit_text(row.credited, component) if row.credited else "nothing"
        note = f"exactly {exact_credit_text(row.exact, component)}"
        if row.least != row.most:
            low, high = credit_text(row.credited_least, component), exact_credit_text(row.most, component)
            note += f"; at least {low if row.credited_least else 'nothing'}, at most {high}, by the alternatives"
        if row.room is not None:
            note += f"; a portion has room for {exact_credit_text(row.room, component)}"
        if row.juice:
            note += f"; {credit_text(row.juice, component)} of it as juice"
        if component.name == "grain" and credits.whole_grain_rich:
            note += "; whole grain-rich"
        rows.append([name, shown, note])
    rows += [[component.title, "unknown"] for component in credits.unknown]
    if not rows:
        rows.append(["nothing"])
    lines = table(rows)
    if credits.gaps:
        lines.append(f"  not counted: {'; '.join(f'{gap.name} ({gap.because})' for gap in credits.gaps[:5])}")
    return lines


def _allergens(allergens: Allergens, sources: LabelSources) -> list[str]:
    rows: list[list[str]] = []
    kinds = dict(allergens.kinds)
    for verb, found in (("contains", allergens.contains), ("may contain", allergens.may_contain)):
        for name, roads in found:
            shown = f"{name} ({', '.join(kinds[name])})" if verb == "contains" and kinds.get(name) else name
            rows.append([verb, shown, "from " + shortlist([" → ".join(road) for road in roads], 3)])
    if allergens.unknown:
        rows.append(["unknown", "no statement", shortlist([" → ".join(road) for road in allergens.unknown], 6)])
    if not rows:
        rows.append(["No allergen recorded."])
    return [*table(rows), *(f"  {line}" for line in label_lines(sources)), f"  {ALLERGEN_CAUTION}"]


def label_lines(sources: LabelSources) -> list[str]:
    """How many of a recipe's labels were read, the oldest reading, and which nobody read."""
    if not sources.with_labels:
        return []
    read = sources.read
    oldest = f"; the oldest on {day_text(read[0].read)} ({read[0].name})" if read and read[0].read else ""
    lines = [f"Labels read: {len(read)} of {sources.with_labels}{oldest}."]
    unread = [
        f"{shortlist(names, 6)} ({why})"
        for standing, why in (
            (DEFAULT, "pantry default"),
            (UNDATED, "no `label read` date"),
            (UNSTATED, "no statement"),
        )
        if (names := sources.names(standing))
    ]
    if unread:
        lines.append(f"Not read: {'; '.join(unread)}. Read the package before you rely on this.")
    return lines


def _nutrients(nutrients: Nutrients, per: str, factor: Fraction) -> list[str]:
    units = dict(nutrients.units)
    totals = (
        nutrients.per_portion()
        if per == "portion"
        else tuple(
            (name, Total(None if found.known is None else found.known * factor, found.missing))
            for name, found in nutrients.batch
        )
    )
    rows: list[list[str]] = []
    for name, found in totals:
        unit = units.get(name, "g")
        shown = "" if unit == "kcal" else f" {unit}"  # the row is called calories
        value = "unknown" if found.known is None else f"{decimal_text(found.known, 1)}{shown}"
        note = ""
        if found.missing and found.known is not None:
            note = f"at least: without {_missing(found.missing)}"
        rows.append([NUTRIENT_TITLES.get(name, name), value, note])
    return table(rows, frozenset({1}))


def _cost(cost: Cost, factor: Fraction) -> list[str]:
    if cost.batch.known is None:
        return ["  unknown"]
    batch = cost.batch.known * factor
    rows = [["batch", dollars(batch)]]
    if cost.portion.known is not None:
        rows.insert(0, ["portion", dollars(cost.portion.known)])
    lines = table(rows, frozenset({1}))
    if cost.batch.missing:
        lines.append(f"  at least: without {_missing(cost.batch.missing)}")
    return lines


def dollars(value: Fraction) -> str:
    """A cost in dollars and cents, rounded up from half a cent."""
    whole, _, cents = decimal_text(value, 2).partition(".")
    return f"${whole}.{cents.ljust(2, '0')}"


def _fill(fill: Fill) -> list[str]:
    rows: list[list[str]] = []
    for filled in fill.containers:
        known = filled.filled.known
        shown = "unknown" if known is None else fluid_ounces_text(known)
        if filled.filled.missing and known is not None:
            shown = f"at least {shown}"
        holds = (
            ""
            if filled.holds is None or filled.room is None
            else (f"of {fluid_ounces_text(filled.room)} below its headspace")
        )
        rows.append([filled.name, shown, holds, "on the side" if filled.on_the_side else ""])
    return table(rows, frozenset({1}))


def _ingredients(facts: Facts, ref: Ref, recipe: Recipe, factor: Fraction) -> list[str]:
    rows: list[list[str]] = []
    for measured, scaled in zip(lines_of(facts, ref), scaled_lines(facts, ref, factor), strict=True):
        line = measured.line
        amount = (scaled.kitchen if factor != 1 else scaled.exact) or "to taste"
        exact = f"exactly {scaled.rounded_from}" if scaled.rounded_from else ""
        weight = "" if measured.grams is None else f"{decimal_text(measured.grams * factor, 0)} g"
        name = f"or {line.name}" if line.alternative else line.name
        notes = [exact] if exact else []
        notes += ["optional"] if line.optional else []
        notes += ["on the side"] if line.on_the_side else []
        rows.append([amount, name, weight, ", ".join(notes)])
    return table(rows, frozenset({2}))
