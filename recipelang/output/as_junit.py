"""Findings as a JUnit report: a test case for each file, so that a name in a test history stays the same from run to
run, passed where nothing in the file fails the check."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Final
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from recipelang.findings.finding import ERROR, WARNING
from recipelang.findings.wording import counted
from recipelang.output.as_text import finding_lines, plain, summary
from recipelang.output.besides import hidden_lines
from recipelang.text.visible import visible_lines
from recipelang.workspace.report import LocatedFinding, Result

_UNWRITABLE: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 has no place for (its production 2)."""


def junit(result: Result, strict: bool = False) -> str:
    """The report. Errors fail a file, with `strict` warnings too; what else is found stands in its output."""
    failing = {ERROR, WARNING} if strict else {ERROR}
    by_path: dict[str, list[LocatedFinding]] = {path: [] for path in result.paths}
    for told in result.told:
        by_path.setdefault(told.range.path, []).append(told)
    failed = sum(any(one.finding.severity in failing for one in found) for found in by_path.values())
    counts = {"tests": str(len(by_path)), "failures": str(failed), "errors": "0", "skipped": "0"}
    suites = _element("testsuites", {"name": "recipelang", **counts})
    suite = _within(suites, "testsuite", {"name": "recipelang check", **counts})
    if result.school_year:
        properties = _within(suite, "properties", {})
        _within(properties, "property", {"name": "school-year", "value": result.school_year})
    for path, found in sorted(by_path.items()):
        _case(suite, path, found, failing)
    lines = [summary(result), *(hidden_lines(result.hidden) if result.hidden is not None else ())]
    _within(suite, "system-out", {}, "\n".join(lines) + "\n")
    indent(suites)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{tostring(suites, encoding="unicode")}\n'


def _case(suite: Element, path: str, found: list[LocatedFinding], failing: set[str]) -> None:
    case = _within(suite, "testcase", {"classname": "recipelang", "name": path, "file": path})
    failures = [one for one in found if one.finding.severity in failing]
    if failures:
        message = _counted(failures)
        if len(failures) == 1:
            message = f"{failures[0].finding.rule}: {failures[0].finding.message}"
        kinds = {one.finding.rule: None for one in failures}
        _within(case, "failure", {"message": message, "type": " ".join(kinds)}, _told(failures))
    others = [one for one in found if one.finding.severity not in failing]
    if others:
        _within(case, "system-out", {}, _told(others))


def _counted(found: list[LocatedFinding]) -> str:
    severities = [one.finding.severity for one in found]
    return ", ".join(counted(severities.count(one), one) for one in dict.fromkeys(severities))


def _told(found: Iterable[LocatedFinding]) -> str:
    return "\n" + "\n".join(plain(finding_lines(told)) for told in found)


def _element(name: str, attributes: Mapping[str, str]) -> Element:
    return Element(name, {key: _written(value) for key, value in attributes.items()})


def _within(parent: Element, name: str, attributes: Mapping[str, str], text: str = "") -> Element:
    child = SubElement(parent, name, {key: _written(value) for key, value in attributes.items()})
    child.text = _written(text) if text else None
    return child


def _written(text: str) -> str:
    return _UNWRITABLE.sub("\ufffd", visible_lines(text))
