"""`recipelang evaluate`: every computed figure of recipes, as text or JSON."""

from __future__ import annotations

import argparse
import json
import sys
from fractions import Fraction

from recipelang.commands import CommandError
from recipelang.commands.opening import open_for, recipe_named
from recipelang.units.numbers import UnreadableNumber, read_number


def run(options: argparse.Namespace) -> int:
    if not options.names and not options.all:
        raise CommandError("name a recipe, or write --all for all of them")
    portions = _portions(options.portions)
    workspace = open_for(options.workspace, options.school_year)
    refs = workspace.recipe_refs() if options.all else [recipe_named(workspace, name) for name in options.names]
    if options.format == "json":
        from recipelang.output.recipe_json import recipes_json

        document = recipes_json(workspace.library, refs, portions, options.per)
        sys.stdout.write(json.dumps(document, ensure_ascii=False, indent=2) + "\n")
    else:
        from recipelang.output.recipe_text import print_recipes

        print_recipes(workspace.library, refs, portions, options.per)
    return 0


def _portions(text: str) -> Fraction | None:
    if not text:
        return None
    try:
        value = read_number(text)
    except UnreadableNumber as error:
        raise CommandError(f"--portions: {error}") from None
    if value <= 0:
        raise CommandError(f"--portions must be more than nothing, not {text}")
    return value
