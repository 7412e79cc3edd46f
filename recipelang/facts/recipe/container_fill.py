"""How full a portion's containers are: the volumes of what goes in against the room below the headspace."""

from __future__ import annotations

from collections.abc import Sequence

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import resolve
from recipelang.evaluate.unknown import NOTHING, Gap, Total, total
from recipelang.facts.recipe.batch import lines_of, yield_of
from recipelang.facts.recipe.container import container_of
from recipelang.facts.recipe.measured import Measured
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.findings.finding import Place
from recipelang.model.container import Fit
from recipelang.model.measures import EACH_NODE
from recipelang.model.names import Ref
from recipelang.model.recipe import Recipe
from recipelang.syntax.split import fold
from recipelang.text.record import Record
from recipelang.units.fraction import ZERO, Fraction
from recipelang.units.table import COUNT, PORTION


class Filled(Record):
    """One container of a portion. Volumes in cups."""

    container: Ref
    name: str
    spot: Place
    holds: Fraction | None
    room: Fraction | None
    filled: Total
    parts: tuple[tuple[str, Fraction], ...]
    """What goes in, each with its volume, for a portion."""
    on_the_side: bool
    counts: tuple[tuple[str, Fraction, Fraction], ...]
    """Things that the container says how many of fit: name, how many fit, how many go in."""


class Fill(Record):
    containers: tuple[Filled, ...]

    @property
    def main(self) -> Filled | None:
        return next((filled for filled in self.containers if not filled.on_the_side), None)


@fact
def fill_of(facts: Facts, ref: Ref) -> Fill:
    """The containers of a portion of a recipe and what is in them."""
    return fill_of_lines(facts, ref, recipe_of(facts, ref), lines_of(facts, ref))


def fill_of_lines(facts: Facts, ref: Ref, recipe: Recipe, lines: Sequence[Measured]) -> Fill:
    """The containers of a portion of a recipe with other amounts or portions than are written."""
    if not recipe.portions or (recipe.container is None and not any(line.side_container for line in recipe.lines)):
        return Fill(())
    found: list[Filled] = []
    if recipe.container is not None:
        inside = [line for line in lines if not line.line.on_the_side]
        filled = _filled(facts, ref, recipe, *recipe.container, inside, on_the_side=False)
        if filled is not None:
            found.append(filled)
    sides: dict[str, list[Measured]] = {}
    spots: dict[str, tuple[str, Place]] = {}
    for line in lines:
        if line.line.side_container is not None:
            key = fold(line.line.side_container[0])
            sides.setdefault(key, []).append(line)
            spots.setdefault(key, line.line.side_container)
    for key, inside in sides.items():
        filled = _filled(facts, ref, recipe, *spots[key], inside, on_the_side=True)
        if filled is not None:
            found.append(filled)
    return Fill(tuple(found))


def _filled(
    facts: Facts, ref: Ref, recipe: Recipe, name: str, spot: Place, inside: list[Measured], on_the_side: bool
) -> Filled | None:
    target = resolve(facts, fold(name), "container:", ref)
    if target is None:
        return None
    container = container_of(facts, target)
    filled: Total = NOTHING
    parts: tuple[tuple[str, Fraction], ...] = ()
    result = yield_of(facts, ref)
    if not on_the_side and not result.volume_is_summed and result.portion_volume is not None:
        filled = Total(result.portion_volume)  # a cooked dish is as large as its portion
    else:
        filled, parts = _summed(recipe, inside)
        if not on_the_side and filled.missing and result.portion_volume is not None:
            filled, parts = Total(result.portion_volume), ()
    counts = _counts(recipe, container.fits, inside)
    return Filled(
        container=target,
        name=container.name,
        spot=spot,
        holds=container.holds,
        room=container.room,
        filled=filled,
        parts=parts,
        on_the_side=on_the_side,
        counts=counts,
    )


def _summed(recipe: Recipe, inside: list[Measured]) -> tuple[Total, tuple[tuple[str, Fraction], ...]]:
    """The volumes of what goes in, for a portion; of alternatives the fullest, because it must fit too."""
    assert recipe.portions
    slots: dict[int, list[Measured]] = {}
    for line in inside:
        if not line.line.to_taste and not line.line.optional:
            slots.setdefault(line.line.slot, []).append(line)
    parts: list[tuple[str, Fraction]] = []
    gaps: list[Gap] = []
    for choices in slots.values():
        fullest: tuple[str, Fraction] | None = None
        for line in choices:
            volume = line.cups_or_gap()
            if isinstance(volume, Gap):
                gaps.append(volume)
                fullest = None
                break
            kept = volume * (1 - line.line.discard) if line.line.discard else volume
            if fullest is None or kept > fullest[1]:
                fullest = (line.line.name, kept)
        if fullest is not None:
            parts.append((fullest[0], fullest[1] / recipe.portions))
    return total([*(cups for _, cups in parts), *gaps]), tuple(parts)


def _counts(
    recipe: Recipe, fits: tuple[Fit, ...], inside: list[Measured]
) -> tuple[tuple[str, Fraction, Fraction], ...]:
    """Pieces of what a container says how many of fit, for a portion."""
    assert recipe.portions
    found: list[tuple[str, Fraction, Fraction]] = []
    for fit in fits:
        if recipe.key == fit.key and len(recipe.portion) == 1 and recipe.portion[0].quantity.dimension == COUNT:
            found.append((fit.name, fit.number, recipe.portion[0].quantity.base))
            continue
        pieces = ZERO
        for line in inside:
            if line.line.key == fit.key and not line.line.alternative:
                pieces += line.base(EACH_NODE) or line.base(PORTION) or 0
        if pieces:
            found.append((fit.name, fit.number, pieces / recipe.portions))
    return tuple(found)
