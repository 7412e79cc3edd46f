"""`recipelang evaluate`: every computed figure of recipes and menus, as text, JSON or a table."""

from __future__ import annotations

import argparse
import sys

from recipelang.commands import CommandError
from recipelang.commands.numbers import more_than_nothing
from recipelang.commands.opening import named, open_for
from recipelang.evaluate.facts import Facts
from recipelang.evaluate.names import kind_of
from recipelang.model.names import Ref


def run(options: argparse.Namespace) -> int:
    if not options.names and not options.all:
        raise CommandError("name a recipe or a menu, or write --all for all of them")
    portions = more_than_nothing(options.portions, "--portions") if options.portions else None
    workspace = open_for(options.workspace, options.school_year)
    refs = [named(workspace, name) for name in options.names]
    if options.all:
        refs = [*workspace.recipe_refs(), *workspace.of_kind("menu")]
    facts = workspace.facts
    menus = [ref for ref in refs if kind_of(facts, ref) == "menu"]
    recipes = [ref for ref in refs if kind_of(facts, ref) != "menu"]
    if portions is not None and menus and not options.all:
        raise CommandError(
            "--portions is of recipes: how many a menu serves is said in it, in `meals` and behind each dish"
        )
    if options.sheet:
        return _sheet(options, facts, menus)
    if options.format != "text":
        from recipelang.output.recipe_json import recipes_json

        document = recipes_json(facts, recipes, portions, options.per)
        if menus:
            from recipelang.output.menu_json import menus_json

            document["menus"] = menus_json(facts, menus)
        if options.format == "csv":
            from recipelang.output.figures_csv import figures_csv

            sys.stdout.write(figures_csv(document))
        else:
            from recipelang.output.json_text import json_text

            sys.stdout.write(json_text(document))
        return 0
    if recipes:
        from recipelang.output.recipe_text import print_recipes

        print_recipes(facts, recipes, portions, options.per)
    if menus:
        from recipelang.output.menu_text import print_menus

        if recipes:
            sys.stdout.write("\n")
        print_menus(facts, menus)
    return 0


def _sheet(options: argparse.Namespace, facts: Facts, menus: list[Ref]) -> int:
    from recipelang.output.cycle_sheet import print_sheet

    if options.format != "text":
        raise CommandError("--sheet prints text; the same figures of menus are in --format json without it")
    if not menus:
        raise CommandError("--sheet is of menus: name one, or write --all for all of them")
    print_sheet(facts, menus)
    return 0
