"""`recipelang compare --without`: what can't be made when something is out of stock, and what becomes of the menus."""

from __future__ import annotations

import argparse
import sys

from recipelang.commands import CommandError
from recipelang.commands.arguments import existing
from recipelang.model.names import Ref
from recipelang.versions.closure import Mentions
from recipelang.versions.comparison import Comparison, compare
from recipelang.versions.imagined import CantImagine, Swap, found_ref, nothing_called, with_swap
from recipelang.versions.out_of_stock import VARIATION, Served, Touched, Uses
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader, Version
from recipelang.versions.traces import Traces
from recipelang.workspace.disk import root_for
from recipelang.workspace.git import GitError, Repository


def run(options: argparse.Namespace) -> int:
    """Prints what there is without the things named. Raises CommandError for a name that nothing has."""
    root, is_library = root_for(existing(options.what))
    try:
        repository = Repository(root)
        traces = Traces() if options.no_cache else Traces.of_repository(repository.shared_folder)
    except GitError:
        repository, traces = None, Traces()
    reader = Reader(root, is_library, known=traces.said, repository=repository)
    now = reader.working_tree()
    outcomes = Outcomes(traces)
    targets = [_target(now, name) for name in options.without]
    evaluation = outcomes.evaluation(now)
    evaluation.load(now.inventory)
    facts = evaluation.facts
    touched = Mentions(now.inventory).closure(targets)
    kinds = {ref: now.inventory.held[ref][0].piece.kind for ref in touched if ref in now.inventory.held}
    recipes = [ref for ref, kind in kinds.items() if kind in ("recipe", "variation")]
    uses = Uses(facts, sorted(recipes), now.inventory.of_kind("menu"))
    found = uses.without(*targets)
    by_itself = [served for target in targets for served in uses.served_by_itself(target)]
    menus = _with_covers(reader, now, found, outcomes)
    traces.save()
    _print(options, found, by_itself, menus)
    return 0


def _target(now: Version, name: str) -> Ref:
    ref = found_ref(now.inventory, name)
    if ref is None:
        raise CommandError(str(nothing_called(now.inventory, name)))
    return ref if ref in now.inventory.held else f"pantry:{ref}"


def _with_covers(reader: Reader, now: Version, found: list[Touched], outcomes: Outcomes) -> Comparison | None:
    """The menus with each covered dish as the variation that covers it; None where no menu has one."""
    texts: dict[str, str] = {}
    joined: dict[Ref, Ref] = {}
    for one in found:
        cover = next((cover for cover in one.covers if cover.kind == VARIATION), None)
        if cover is None or not one.served:
            continue
        try:
            made = with_swap(now, texts, Swap(cover.name, one.name), ("menu",))
        except CantImagine:
            continue
        texts = made.texts
        joined.update(dict.fromkeys(made.refs, "=the dishes that stand in"))
    if not texts:
        return None
    newer = reader.with_contents(
        now, {path: text.encode() for path, text in texts.items()}, "the same with what stands in"
    )
    newer = newer._replace(origin=(("imagined", tuple(f"without {one.name}" for one in found)),))
    return compare(now, newer, outcomes, joined=joined)


def _print(
    options: argparse.Namespace, found: list[Touched], by_itself: list[Served], menus: Comparison | None
) -> None:
    from recipelang.output.without_text import without_json, without_lines

    if options.format == "json":
        from recipelang.output.compare_json import comparison_document
        from recipelang.output.json_text import json_text

        document = {} if menus is None else comparison_document(menus)
        document = {"version": 1, "to": {"imagined": [f"without {name}" for name in options.without]}, **document}
        document["to"] = {"imagined": [f"without {name}" for name in options.without]}
        sys.stdout.write(json_text(document | without_json(found, by_itself)))
        return
    lines = without_lines(options.without, found, by_itself)
    if menus is not None and menus.effects:
        from recipelang.output.compare_text import effect_lines

        lines += ["", "the menus, with the dishes that stand in"]
        lines += [f"  {label:<28}  {words}" for label, words in effect_lines(menus, menus.effects)]
    from recipelang.output.cautions import ALLERGEN_CAUTION
    from recipelang.output.printing import print_blocks

    print_blocks([[*lines, "", ALLERGEN_CAUTION] if any(not one.is_lost for one in found) else lines])
