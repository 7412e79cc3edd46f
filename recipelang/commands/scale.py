"""`recipelang scale`: a batch for another number of portions, as a kitchen measures it, as text or JSON."""

from __future__ import annotations

import argparse
import re
import sys
from typing import Final

from recipelang.commands import CommandError
from recipelang.commands.numbers import more_than_nothing
from recipelang.commands.opening import named_recipe, open_for
from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import meaning_of, resolve
from recipelang.evaluate.unknown import Gap
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.sizes import pans_of, portions_from
from recipelang.model.names import Ref
from recipelang.rules.errors import open_errors
from recipelang.syntax.split import fold
from recipelang.units.amount import Quantity, read_amount
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import number_text

_BLANK: Final = re.compile(r"[ \t]+")


def run(options: argparse.Namespace) -> int:
    workspace = open_for(options.workspace, options.school_year)
    facts = workspace.facts
    ref = named_recipe(workspace, options.name)
    portions = _portions(facts, ref, options)
    if options.format == "json":
        from recipelang.output.json_text import json_text
        from recipelang.output.scale_json import scale_json

        sys.stdout.write(json_text(scale_json(facts, ref, portions)))
    else:
        from recipelang.output.printing import print_blocks
        from recipelang.output.scale_text import scale_lines

        print_blocks([scale_lines(facts, ref, portions)])
    return 1 if open_errors(facts, ref) else 0


def _portions(facts: Facts, ref: Ref, options: argparse.Namespace) -> Fraction:
    """The portions that are asked for, one way or another. Raises CommandError."""
    recipe = recipe_of(facts, ref)
    if not recipe.portions:
        raise CommandError(f"{recipe.name} does not say how many portions it makes; write `makes … portions`")
    if options.have:
        return _from_have(facts, ref, options.have)
    if options.pans:
        pans = pans_of(recipe)
        if pans is None:
            raise CommandError(f"{recipe.name} does not say how many pans it fills; write `pans 2 …`")
        # a pan holds so many portions, and no part of one
        return _at_least_one(more_than_nothing(options.pans, "--pans") * recipe.portions / pans, recipe.name)
    if options.containers:
        if recipe.container is None:
            raise CommandError(f"{recipe.name} is served in no container; write `in …`, or give --portions")
        return _whole(options.containers, "--containers")
    return _whole(options.portions, "--portions")


def _from_have(facts: Facts, ref: Ref, text: str) -> Fraction:
    quantity, name = _amount_and_name(text)
    target = resolve(facts, fold(name), within=ref)
    if target is None:
        raise CommandError(f"--have: nothing in the library or the pantry is called `{name}`")
    found = portions_from(facts, ref, target, quantity)
    if isinstance(found, Gap):
        supply = f"; write `{found.supply}`" if found.supply else ""
        raise CommandError(
            f"--have: how much {name} a portion takes is not known: {found.name}, {found.because}{supply}"
        )
    declared = meaning_of(facts, target)
    return _at_least_one(found, f"`{text}` of {declared.name if declared else name}")


def _amount_and_name(text: str) -> tuple[Quantity, str]:
    """`40 lb canned apricots`: the longest beginning that is an amount of a known unit, and the name after it."""
    words = _BLANK.split(text.strip())
    for end in range(len(words) - 1, 0, -1):
        reading = read_amount(" ".join(words[:end]))
        if reading.quantity is not None and reading.quantity.unit.dimension != "word":
            return reading.quantity, " ".join(words[end:])
    raise CommandError(f'--have: `{text}` is no amount of a food; write it like "40 lb canned apricots"')


def _at_least_one(portions: Fraction, what: str) -> Fraction:
    whole = Fraction(portions.__floor__())
    if whole < 1:
        raise CommandError(f"{what} is too little for one portion")
    return whole


def _whole(text: str, option: str) -> Fraction:
    value = more_than_nothing(text, option)
    if value.denominator != 1:
        raise CommandError(f"{option} must be a whole number, not {number_text(value)}")
    return value
