"""How full a portion's containers are: the volumes of what goes in against the room below the headspace."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from recipelang.evaluate.gaps import Gap, Total, total
from recipelang.evaluate.library import Library, Ref
from recipelang.evaluate.measured import Measured
from recipelang.model.measures import EACH_NODE
from recipelang.model.recipe import Recipe, Spot
from recipelang.syntax.split import fold


class Filled(NamedTuple):
    """One container of a portion. Volumes in cups."""

    container: Ref
    name: str
    spot: Spot
    holds: Fraction | None
    room: Fraction | None
    filled: Total
    parts: tuple[tuple[str, Fraction], ...]
    """What goes in, each with its volume, for a portion."""
    on_the_side: bool
    counts: tuple[tuple[str, Fraction, Fraction], ...]
    """Things that the container says how many of fit: name, how many fit, how many go in."""


class Fill(NamedTuple):
    containers: tuple[Filled, ...]

    @property
    def main(self) -> Filled | None:
        return next((filled for filled in self.containers if not filled.on_the_side), None)


def fill(library: Library, ref: Ref) -> Fill:
    """The containers of a portion of a recipe and what is in them."""
    recipe = library.recipe(ref)
    if not recipe.portions or (recipe.container is None and not any(line.side_container for line in recipe.lines)):
        return Fill(())
    lines = library.lines(ref)
    found: list[Filled] = []
    if recipe.container is not None:
        inside = [line for line in lines if not line.line.on_the_side]
        filled = _filled(library, ref, recipe, *recipe.container, inside, on_the_side=False)
        if filled is not None:
            found.append(filled)
    sides: dict[str, list[Measured]] = {}
    spots: dict[str, tuple[str, Spot]] = {}
    for line in lines:
        if line.line.side_container is not None:
            key = fold(line.line.side_container[0])
            sides.setdefault(key, []).append(line)
            spots.setdefault(key, line.line.side_container)
    for key, inside in sides.items():
        filled = _filled(library, ref, recipe, *spots[key], inside, on_the_side=True)
        if filled is not None:
            found.append(filled)
    return Fill(tuple(found))


def _filled(
    library: Library, ref: Ref, recipe: Recipe, name: str, spot: Spot, inside: list[Measured], on_the_side: bool
) -> Filled | None:
    target = library.resolve(fold(name), "container:", ref)
    if target is None:
        return None
    container = library.container(target)
    assert recipe.portions
    # the fullest choice must fit too
    slots: dict[int, list[Measured]] = {}
    for line in inside:
        slots.setdefault(line.line.slot, []).append(line)
    parts: list[tuple[str, Fraction]] = []
    volumes: list[Fraction | Gap] = []
    for choices in slots.values():
        known = [(line, line.cups_or_gap()) for line in choices if not line.line.to_taste]
        if not known:
            continue
        missing = next((volume for _, volume in known if isinstance(volume, Gap)), None)
        if missing is not None:
            volumes.append(missing)
            continue
        line, volume = max(known, key=lambda pair: pair[1])
        assert isinstance(volume, Fraction)
        cups = volume * (1 - line.line.discard) / recipe.portions
        volumes.append(cups)
        parts.append((line.line.name, cups))
    filled = total(volumes)
    if not on_the_side:
        filled, parts = _by_portion(library, ref, filled, parts)
    counts = tuple(_counts(library, ref, recipe, container.fits, inside))
    return Filled(
        target, container.name, spot, container.holds, container.room, filled, tuple(parts), on_the_side, counts
    )


def _by_portion(
    library: Library, ref: Ref, filled: Total, parts: list[tuple[str, Fraction]]
) -> tuple[Total, list[tuple[str, Fraction]]]:
    """The volume of a cooked dish, or of one that can't be summed, is its portion's."""
    result = library.get("yields", ref)
    summed = result.volume_is_summed and filled.complete is not None
    if summed:
        return filled, parts
    portion = result.portion_volume
    return (Total(portion), []) if portion is not None else (filled, parts)


def _counts(
    library: Library, ref: Ref, recipe: Recipe, fits: object, inside: list[Measured]
) -> list[tuple[str, Fraction, Fraction]]:
    from recipelang.model.container import Fit

    found: list[tuple[str, Fraction, Fraction]] = []
    assert isinstance(fits, tuple)
    assert recipe.portions
    for fit in fits:
        assert isinstance(fit, Fit)
        pieces = Fraction(0)
        for line in inside:
            if line.line.key == fit.key and not line.line.alternative:
                count = line.base(EACH_NODE)
                if count is None:
                    count = line.base("portion")
                pieces += count or 0
        if recipe.key == fit.key and recipe.portion and len(recipe.portion) == 1:
            quantity = recipe.portion[0].quantity
            pieces += quantity.base if quantity.dimension == "count" else 0
            pieces = pieces if recipe.portions else pieces
            found.append((fit.name, fit.number, pieces))
        elif pieces:
            found.append((fit.name, fit.number, pieces / recipe.portions))
    return found
