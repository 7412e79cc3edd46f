"""Findings as SARIF 2.1.0 (OASIS Standard with Errata 01), which code hosts and editors read.

A result is known by rule, declaration and figures, never by its line. Paths count from the top of the repository.
"""

from __future__ import annotations

from collections import Counter
from posixpath import normpath
from typing import Any, Final
from urllib.parse import quote

from recipelang.findings.finding import ERROR, HINT, SEVERITIES, WARNING
from recipelang.output.explanation import without_markers
from recipelang.output.json_text import json_text
from recipelang.rules.catalogue import Page, page, rules
from recipelang.text.version import VERSION
from recipelang.workspace.finding_identity import fingerprint, identity
from recipelang.workspace.report import LocatedFinding, Result
from recipelang.workspace.source_file import Range

SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
MOST_RESULTS: Final = 5000
"""Results of one run. A code host shows no more, and takes the weightiest first."""

_TOP: Final = "%SRCROOT%"
_LEVELS: Final = {ERROR: "error", WARNING: "warning", HINT: "note"}


def sarif(result: Result, prefix: str = "", most: int = MOST_RESULTS) -> str:
    """The log: one run. `prefix` leads from the repository to the library, as `kitchen/`."""
    told = [one for one in result.told if one.finding.rule != "too-many-findings"]
    weight = {severity: number for number, severity in enumerate(SEVERITIES)}
    if len(told) > most:
        weightiest = sorted(range(len(told)), key=lambda number: weight[told[number].finding.severity])[:most]
        told = [told[number] for number in sorted(weightiest)]
    left_out = result.left_out + sum(one.finding.rule != "too-many-findings" for one in result.told) - len(told)
    names = sorted({one.finding.rule for one in told})
    run = {
        "tool": {
            "driver": {
                "name": "recipelang",
                "version": VERSION,
                "semanticVersion": VERSION,
                "rules": [_rule(name) for name in names],
            }
        },
        "invocations": [_invocation(left_out)],
        "columnKind": "unicodeCodePoints",
        "originalUriBaseIds": {_TOP: {"description": {"text": "The top of the repository that holds the library."}}},
        "results": _results(told, {name: number for number, name in enumerate(names)}, prefix),
        "properties": {
            "schoolYear": result.school_year or None,
            "files": result.files,
            "leftOut": left_out,
            "hiddenByBaseline": result.hidden.number if result.hidden else 0,
        },
    }
    document = {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}
    return json_text(document)


def _invocation(left_out: int) -> dict[str, Any]:
    notes = []
    if left_out:
        text = f"{left_out} more findings are left out; fix these first, or check fewer files."
        notes.append({"level": "warning", "message": {"text": text}, "descriptor": {"id": "too-many-findings"}})
    return {"executionSuccessful": True, **({"toolExecutionNotifications": notes} if notes else {})}


# ---- rules -----------------------------------------------------------------------------------------------------------


def _rule(name: str) -> dict[str, Any]:
    """A rule with its manual page as help."""
    found, rule = page(name), rules().get(name)
    if found is None or rule is None:
        return {"id": name}
    return {
        "id": name,
        "shortDescription": {"text": _literal(found.summary)},
        "fullDescription": {"text": _literal(" ".join(found.section("Why").split()))},
        "help": {"text": _literal(_help(found, "{}")), "markdown": _help(found, "```\n{}\n```")},
        "defaultConfiguration": {"level": _LEVELS.get(rule.severity, "note"), "enabled": not rule.default_off},
        "properties": {"tags": [found.area], "source": " ".join(found.section("Source").split())},
    }


def _help(found: Page, example: str) -> str:
    parts = [" ".join(found.section("Why").split()), "Source: " + " ".join(found.section("Source").split())]
    for title, section in (("Breaks it:", "Breaks"), ("Fixed:", "Fixed"), ("Is left alone:", "Leaves alone")):
        text = without_markers(found.section(section))
        parts += [title, example.format(text)] if text else []
    return "\n\n".join(parts)


# ---- results ---------------------------------------------------------------------------------------------------------


def _results(told: list[LocatedFinding], numbers: dict[str, int], prefix: str) -> list[dict[str, Any]]:
    seen: Counter[str] = Counter()
    found = []
    for one in told:
        mark = fingerprint(identity(one))
        seen[mark] += 1
        found.append(_result(one, numbers[one.finding.rule], prefix, mark, seen[mark]))
    return found


def _result(told: LocatedFinding, number: int, prefix: str, mark: str, nth: int) -> dict[str, Any]:
    finding = told.finding
    location: dict[str, Any] = {"physicalLocation": _physical(told.range, prefix, told.line)}
    if told.declaration:
        location["logicalLocations"] = [{"name": told.declaration, "kind": "declaration"}]
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": number,
        "level": _LEVELS[finding.severity],
        "message": {"text": _literal(_message(told))},
        "locations": [location],
        # of the two, a code host reads only the second, whatever the name says it was made from
        "partialFingerprints": {"ruleDeclarationFigures/v1": mark, "primaryLocationLineHash": f"{mark}:{nth}"},
        "properties": {"figures": {figure.key: figure.value for figure in finding.figures}, "source": finding.source},
    }
    if told.related:
        result["relatedLocations"] = [
            {"id": at, "message": {"text": _literal(message)}, "physicalLocation": _physical(place, prefix)}
            for at, (place, message) in enumerate(told.related, 1)
        ]
    if told.fixes:
        result["fixes"] = [_fix(title, edits, prefix) for title, edits, _ in told.fixes]
    return result


def _message(told: LocatedFinding) -> str:
    finding = told.finding
    lines = [finding.message, *(f"{figure.label}: {figure.value}" for figure in finding.figures)]
    lines += [f"fix: {finding.help}"] if finding.help else []
    return "\n".join(lines)


def _fix(title: str, edits: tuple[tuple[Range, str], ...], prefix: str) -> dict[str, Any]:
    by_path: dict[str, list[dict[str, Any]]] = {}
    for place, text in edits:
        replacement = {"deletedRegion": _region(place), "insertedContent": {"text": text}}
        by_path.setdefault(place.path, []).append(replacement)
    return {
        "description": {"text": _literal(title)},
        "artifactChanges": [
            {"artifactLocation": _artifact(path, prefix), "replacements": replacements}
            for path, replacements in by_path.items()
        ],
    }


def _physical(place: Range, prefix: str, line: str = "") -> dict[str, Any]:
    region = _region(place)
    if line.strip():
        context = {"startLine": place.start.line, "endLine": place.start.line, "snippet": {"text": line}}
        return {"artifactLocation": _artifact(place.path, prefix), "region": region, "contextRegion": context}
    return {"artifactLocation": _artifact(place.path, prefix), "region": region}


def _artifact(path: str, prefix: str) -> dict[str, str]:
    return {"uri": quote(normpath(prefix + path), safe="/~", errors="surrogateescape"), "uriBaseId": _TOP}


def _region(place: Range) -> dict[str, int]:
    """Lines and columns from 1, the end column one past the last character, as the standard counts them too."""
    return {
        "startLine": place.start.line, "startColumn": place.start.column,
        "endLine": place.end.line, "endColumn": place.end.column,
    }  # fmt: skip


def _literal(text: str) -> str:
    """A message that means itself: braces are placeholders and brackets before a round one are links (3.11.5, 3.11.6)."""
    text = text.replace("{", "{{").replace("}", "}}")
    return text.replace("[", "\\[").replace("]", "\\]") if "](" in text else text
