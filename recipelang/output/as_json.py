"""Findings as JSON (`check --format json`), a stable contract for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from recipelang.output.json_text import json_text
from recipelang.workspace.report import LocatedFinding, Result
from recipelang.workspace.source_file import Range

if TYPE_CHECKING:
    from recipelang.workspace.rule_year_diff import Years

VERSION = 2


def findings_json(result: Result, years: Years | None = None) -> str:
    """The document: findings in order, and a summary of counts by severity and files. What a baseline hides and what
    another school year changes stand in the summary where they were asked for."""
    document = {
        "version": VERSION,
        "findings": [finding_json(told) for told in result.told],
        "summary": {
            **result.counts, "files": result.files, "declarations": result.declarations,
            "school_year": result.school_year or None, "years_of_menus": list(result.years), **_besides(result, years),
        },
    }  # fmt: skip
    return json_text(document)


def finding_json(told: LocatedFinding) -> dict[str, Any]:
    """One finding."""
    finding = told.finding
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "path": told.range.path,
        "range": range_json(told.range),
        "declaration": told.declaration,
        "message": finding.message,
        "figures": {figure.key: figure.value for figure in finding.figures},
        "source": finding.source,
        "help": finding.help,
        "related": [
            {"path": place.path, "range": range_json(place), "message": message} for place, message in told.related
        ],
        "fixes": [
            {
                "title": title,
                "edits": [{"path": place.path, "range": range_json(place), "text": text} for place, text in edits],
                "changes_food": changes_food,
            }
            for title, edits, changes_food in told.fixes
        ],
    }


def _besides(result: Result, years: Years | None) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if result.left_out:
        found["left_out"] = result.left_out
    if result.imagined:
        found["imagined"] = list(result.imagined)
    if result.hidden is not None:
        hidden = result.hidden
        found["baseline"] = {
            "path": hidden.baseline, "hidden": hidden.number, "outdated": list(hidden.outdated),
            "refused": list(hidden.refused),
        }  # fmt: skip
    if years is not None:
        found["against_own_year"] = {
            "own": years.own, "other": years.other,
            "rules": [
                {"rule": one.rule, "gained": list(one.gained), "lost": list(one.lost), "differing": list(one.differing)}
                for one in years.changes
            ],
        }  # fmt: skip
    return found


def range_json(place: Range) -> dict[str, dict[str, int]]:
    """Lines and columns from 1, columns in code points, the end exclusive."""
    return {
        "start": {"line": place.start.line, "column": place.start.column},
        "end": {"line": place.end.line, "column": place.end.column},
    }
