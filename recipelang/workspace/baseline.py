"""A baseline: the findings a library had when it began to be checked, so that only new ones count.

It is keyed on rule, declaration and figures, never on lines, and holds how many findings are alike. What speaks of
children's safety, and whatever stands in the way of checking at all, can neither be put in nor be hidden by it.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from recipelang.findings.wording import counted
from recipelang.rules.catalogue import rules
from recipelang.text.source import UnreadableText
from recipelang.workspace.files import read_text
from recipelang.workspace.finding_identity import Identity, identity
from recipelang.workspace.report import Hidden, LocatedFinding, Result

VERSION: Final = 1

Baseline = Mapping[Identity, int]
"""How many findings of each identity are hidden."""


class BadBaseline(ValueError):
    """A file that is no baseline; the message says in one sentence why."""


def may_hold(told: LocatedFinding) -> bool:
    """Whether a baseline may hide a finding."""
    return not _is_hard(told.finding.rule)


def baseline_of(result: Result, within: Baseline | None = None) -> Baseline:
    """The baseline that hides all of a result's findings that may be hidden; `within` an older one it never grows."""
    found = Counter(identity(told) for told in result.told if may_hold(told))
    if within is None:
        return found
    return {one: min(number, within[one]) for one, number in found.items() if within.get(one, 0) > 0}


def hide(result: Result, baseline: Baseline, name: str) -> Result:
    """A result without the findings that a baseline holds, and what became of its entries.

    An entry is outdated when a check that would have met it did not: where only some files were checked, nothing is
    said of declarations in others.
    """
    left = dict(baseline)
    kept: list[LocatedFinding] = []
    for told in result.told:
        one = identity(told)
        if left.get(one, 0) > 0 and may_hold(told):
            left[one] -= 1
        else:
            kept.append(told)
    refused = [one for one in baseline if _is_hard(one.rule)]
    outdated = {
        one: number
        for one, number in left.items()
        if number > 0 and one not in refused and (result.is_whole or _was_checked(one, result))
    }
    return result._replace(
        told=tuple(kept),
        hidden=Hidden(
            name,
            len(result.told) - len(kept),
            tuple(_described(one, number) for one, number in sorted(outdated.items())),
            tuple(_described(one, baseline[one]) for one in sorted(refused)),
        ),
    )


def read_baseline(path: Path) -> Baseline:
    """The baseline in a file. Raises BadBaseline."""
    try:
        data = json.loads(read_text(path))
    except UnreadableText as error:
        raise BadBaseline(f"{path} can't be read: {error}") from None
    except json.JSONDecodeError as error:
        raise BadBaseline(f"{path} is no baseline: line {error.lineno} is not JSON ({error.msg.lower()})") from None
    except RecursionError:
        raise BadBaseline(f"{path} is no baseline: it is nested too deep") from None
    if not isinstance(data, dict) or not isinstance(data.get("findings"), list):
        raise BadBaseline(f"{path} is no baseline: it has no list of findings")
    if data.get("version") != VERSION:
        raise BadBaseline(f"{path} is a baseline of version {data.get('version')}; this tool reads version {VERSION}")
    found: Counter[Identity] = Counter()
    for number, entry in enumerate(data["findings"], 1):
        found.update(_entry(entry, f"{path} can't be used: its finding {number}"))
    return found


def baseline_text(baseline: Baseline) -> str:
    """The file: one entry an identity, always in the same order, so that a change of it reads well in a diff."""
    entries = [
        {
            "rule": one.rule,
            "declaration": one.declaration,
            **({"figures": dict(one.figures)} if one.figures else {"text": one.text}),
            "count": number,
        }
        for one, number in sorted(baseline.items())
    ]
    return json.dumps({"version": VERSION, "findings": entries}, ensure_ascii=False, indent=2) + "\n"


def _entry(entry: Any, where: str) -> dict[Identity, int]:
    if not isinstance(entry, dict):
        raise BadBaseline(f"{where} is no entry")
    figures, number = entry.get("figures", {}), entry.get("count", 1)
    texts = [entry.get("rule"), entry.get("declaration"), entry.get("text", "")]
    if not all(isinstance(text, str) for text in texts) or not texts[0]:
        raise BadBaseline(f"{where} names no rule or no declaration")
    if not isinstance(figures, dict) or not all(isinstance(value, str) for value in figures.values()):
        raise BadBaseline(f"{where} has figures that are no texts")
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        raise BadBaseline(f"{where} has a count that is no whole number above nothing")
    rule, declaration, text = texts
    return {Identity(str(rule), str(declaration), tuple(sorted(figures.items())), str(text)): number}


def _is_hard(rule: str) -> bool:
    known = rules().get(rule)
    return known is not None and known.hard


def _was_checked(one: Identity, result: Result) -> bool:
    return one.declaration in result.names or one.declaration in result.paths


def _described(one: Identity, number: int) -> str:
    what = ", ".join(f"{key} {value}" for key, value in one.figures) or one.text
    told = f"{one.rule} in {one.declaration}"
    several = f", {counted(number, 'finding')}" if number > 1 else ""
    return f"{told} ({what}){several}" if what else f"{told}{several}"
