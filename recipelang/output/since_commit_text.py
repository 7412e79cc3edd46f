"""What has become of one declaration since the last commit: in a line above it, and as a report."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.findings.wording import counted, listed
from recipelang.model.names import Ref
from recipelang.output.cautions import ALLERGEN_CAUTION
from recipelang.output.compare_text import cause_heading, comparison_lines, effect_lines, label, sentence
from recipelang.text.visible import visible
from recipelang.versions.comparison import Comparison
from recipelang.versions.difference import ADDED
from recipelang.versions.effects import ALLERGENS, Effect

_MOST: Final = 3
"""Effects that a line above a declaration names."""
SINCE: Final = "since the last commit"


def since_titles(made: Comparison) -> dict[Ref, str]:
    """The line above each declaration of which there is something to say."""
    own: dict[Ref, list[Effect]] = {}
    for effect in made.effects:
        own.setdefault(effect.ref, []).append(effect)
    titles: dict[Ref, str] = {}
    for one in made.difference.declarations:
        parts: list[str] = []
        if one.state == ADDED:
            parts.append("new")
        elif one.was:
            parts.append(f"renamed, before {one.was}")
        effects = [effect for effect in own.get(one.ref, ()) if not effect.restates] if one.state != ADDED else []
        parts += [f"{label(effect)} {_brief(effect)}".rstrip() for effect in effects[:_MOST]]
        if len(effects) > _MOST:
            parts.append(f"{len(effects) - _MOST} more")
        others = {effect.ref for effect in made.by_cause.get(one.ref, ()) if effect.ref != one.ref}
        if others:
            parts.append(f"{counted(len(others), 'other declaration')} {'is' if len(others) == 1 else 'are'} different")
        if not parts and one.is_edited:
            parts.append("edited, and nothing computed differs")
        if parts:
            caution = (
                " (check every package)" if any(effect.category == ALLERGENS for effect in effects[:_MOST]) else ""
            )
            titles[one.ref] = visible(f"{SINCE}: {', '.join(parts)}{caution}")
    return titles


def _brief(effect: Effect) -> str:
    return "" if effect.finding is not None else sentence(effect)


def since_report(made: Comparison, ref: Ref | None) -> list[str]:
    """All that a declaration is or does differently since the commit; of the whole library without one."""
    if ref is None:
        return comparison_lines(made)
    return list(map(visible, _report(made, ref)))


def _report(made: Comparison, ref: Ref) -> Iterator[str]:
    found = [one for one in made.effects if one.ref == ref or any(cause.ref == ref for cause in one.causes.causes)]
    declared = next((one for one in made.difference.declarations if one.ref == ref), None)
    name = made.name(ref) if declared is not None else ref
    state = ""
    if declared is not None and declared.state == ADDED:
        state = ", which is new"
    elif declared is not None and declared.was:
        state = f", before {declared.was}"
    yield f"{made.older} to {made.newer}: {name}{state}"
    if not found:
        yield ""
        edited = declared is not None and declared.is_edited
        yield "edited, and nothing computed differs" if edited else "nothing differs"
        return
    own = [one for one in found if one.ref == ref]
    others = [one for one in found if one.ref != ref]
    if own:
        yield ""
        causes = dict.fromkeys(cause.ref for one in own for cause in one.causes.causes)
        yield f"what is different of it, by {listed(made.cause(one).name for one in causes)}" if causes else "of it"
        for name, words in effect_lines(made, own):
            yield f"  {name:<28}  {words}".rstrip()
    if others:
        yield ""
        yield f"what it changes: {cause_heading(made, ref)}"
        for name, words in effect_lines(made, others, ref):
            yield f"  {name:<28}  {words}".rstrip()
    if any(one.category == ALLERGENS for one in found):
        yield ""
        yield ALLERGEN_CAUTION
