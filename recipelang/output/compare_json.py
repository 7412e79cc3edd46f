"""What a change means, for programs (`compare --format json`): a stable contract.

Causes are numbered as they stand in the document; a figure's causes name them. Figures are as in `evaluate`, findings as
in `check`. Nothing in it depends on when it was made.
"""

from __future__ import annotations

from typing import Any

from recipelang.findings.finding import Finding
from recipelang.model.names import Ref
from recipelang.output.as_json import finding_json
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.compared_values import unit_of, value_json
from recipelang.output.json_text import json_text
from recipelang.units.numbers import exact_text
from recipelang.versions.causes import Causes
from recipelang.versions.comparison import Comparison
from recipelang.versions.difference import DeclarationChange
from recipelang.versions.effects import ALLERGENS, Effect
from recipelang.versions.sources import Version

VERSION = 1


def comparison_json(made: Comparison) -> str:
    """The document."""
    return json_text(comparison_document(made))


def comparison_document(made: Comparison) -> dict[str, Any]:
    """The document as plain values."""
    order = list(made.by_cause)
    by_ref: dict[Ref, list[Effect]] = {}
    for effect in made.effects:
        by_ref.setdefault(effect.ref, []).append(effect)
    shown = [one for one in made.difference.declarations if one.ref in by_ref or one.is_edited]
    places = {one.ref: number for number, one in enumerate(shown)}
    return {
        "version": VERSION,
        "from": _side(made.difference.older),
        "to": _side(made.difference.newer),
        "causes": [cause_json(made, ref, places) for ref in order],
        "declarations": [declaration_json(made, one, by_ref.get(one.ref, []), order) for one in shown],
        "renamed": [
            {"from": made.older_name(one.older), "to": made.name(one.newer), "lines": one.lines}
            for one in made.difference.renames.followed
            if not made.was_damaged(one.older)
        ],
        "perhaps_renamed": [
            {"from": made.older_name(one.older), "to": [made.name(ref) for ref in one.newer]}
            for one in made.difference.renames.perhaps
        ],
        "notes": list(made.notes),
        "summary": _summary(made),
        **({"caution": ALLERGEN_CAUTION} if any(one.category == ALLERGENS for one in made.effects) else {}),
    }


def _side(version: Version) -> dict[str, Any]:
    return {key: list(value) if isinstance(value, tuple) else value for key, value in version.origin}


def cause_json(made: Comparison, ref: Ref, places: dict[Ref, int]) -> dict[str, Any]:
    """A change that effects come from. `places` numbers the document's declarations."""
    cause = made.cause(ref)
    found: dict[str, Any] = {
        "name": cause.name, "kind": cause.kind, "path": cause.path or None, "line": cause.line or None, "what": cause.what if not cause.lines else "changed",
        "lines": [{"before": before or None, "after": after or None} for before, after in cause.lines],
        "effects": sorted({places[effect.ref] for effect in made.by_cause[ref]}),
    }  # fmt: skip
    return found | {"imagined": True} if cause.is_imagined else found


def declaration_json(made: Comparison, one: DeclarationChange, found: list[Effect], order: list[Ref]) -> dict[str, Any]:
    """A declaration that differs. `order` is that of the document's causes."""
    path, line = made.place(one.ref)
    was = {"name": one.was, "path": made.older_path(one.ref)} if one.was or made.has_moved(one.ref) else None
    if was is not None and not one.was:
        was["name"] = one.name
    figures = [effect for effect in found if effect.finding is None]
    return {
        "name": one.name,
        "kind": one.kind,
        "path": path,
        "line": line,
        "state": one.state,
        "edited": one.is_edited,
        "was": was,
        "could_not_be_read_before": one.unread_before,
        "can_not_be_read_now": one.unread_after,
        "figures": [_figure(made, effect, order) for effect in sorted(figures, key=lambda effect: _place(one, effect))],
        "gained": [_finding(made, effect, order) for effect in found if effect.finding is not None and effect.came],
        "lost": [_finding(made, effect, order) for effect in found if effect.finding is not None and not effect.came],
    }


def _place(one: DeclarationChange, effect: Effect) -> int:
    return [figure.name for figure in one.figures].index(effect.name)


def _figure(made: Comparison, effect: Effect, order: list[Ref]) -> dict[str, Any]:
    return {
        "figure": effect.name,
        "unit": unit_of(effect.after, effect.before),
        "before": value_json(effect.before),
        "after": value_json(effect.after),
        "worse": effect.is_loss,
        **_causes(made, effect.ref, effect.causes, order),
    }


def _finding(made: Comparison, effect: Effect, order: list[Ref]) -> dict[str, Any]:
    finding = effect.finding
    assert isinstance(finding, Finding)
    locating = made.located_after if effect.came else made.located_before
    return {**finding_json(locating.located(finding)), **_causes(made, effect.ref, effect.causes, order)}


def _causes(made: Comparison, ref: Ref, causes: Causes, order: list[Ref]) -> dict[str, Any]:
    return {
        "causes": [
            {
                "name": made.cause(one.ref).name,
                "cause": order.index(one.ref) if one.ref in order else None,
                "lines": made.lines_of(one),
                "road": made.road(ref, one.ref),
                "share": None if one.share is None else exact_text(one.share),
            }
            for one in causes.causes
        ],
        "together": causes.together,
        "sorted": causes.is_sorted,
    }


def _summary(made: Comparison) -> dict[str, Any]:
    counts = made.counts
    gained: dict[str, int] = {"error": 0, "warning": 0, "hint": 0}
    lost = dict(gained)
    for effect in made.effects:
        if effect.finding is not None:
            (gained if effect.came else lost)[effect.finding.severity] += 1
    return {
        "changed": counts.edited, "added": counts.added, "removed": counts.removed, "renamed": counts.renamed,
        "moved": counts.moved, "laid_out": counts.laid_out, "other_settings": made.difference.has_other_settings,
        "declarations": sum(one.is_other for one in made.difference.declarations),
        "figures": sum(effect.finding is None for effect in made.effects), "gained": gained, "lost": lost,
        "not_sorted": made.unsorted,
    }  # fmt: skip
