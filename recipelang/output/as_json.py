"""Findings as JSON (`check --format json`), a stable contract for other programs."""

from __future__ import annotations

import json
from typing import Any

from recipelang.workspace.filing import Range
from recipelang.workspace.report import Result, Told

VERSION = 1


def findings_json(result: Result) -> str:
    """The document: findings in order, and a summary of counts by severity and files."""
    document = {
        "version": VERSION,
        "findings": [_finding(told) for told in result.told],
        "summary": {
            **result.counts, "files": result.files, "declarations": result.declarations,
            "school_year": result.school_year or None,
        },
    }  # fmt: skip
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _finding(told: Told) -> dict[str, Any]:
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
        "mend": finding.mend,
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


def range_json(place: Range) -> dict[str, dict[str, int]]:
    """Lines and columns from 1, columns in code points, the end exclusive."""
    return {
        "start": {"line": place.start.line, "column": place.start.column},
        "end": {"line": place.end.line, "column": place.end.column},
    }
