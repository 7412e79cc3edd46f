"""Findings as workflow commands of GitHub Actions, which shows them beside the lines of a change.

A path counts from the top of the repository, which the library may lie below. Columns are told only where a finding
stays within a line: the service takes none otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from posixpath import normpath
from typing import Final

from recipelang.findings.finding import ERROR, WARNING
from recipelang.output.as_text import summary
from recipelang.output.besides import hidden_lines
from recipelang.text.visible import printable, visible_lines
from recipelang.workspace.report import LocatedFinding, Result

_COMMANDS: Final = {ERROR: "error", WARNING: "warning"}
"""Commands by severity; a hint is a notice."""


def workflow_commands(result: Result, prefix: str = "") -> Iterator[str]:
    """The lines to print: one for each finding, one for a baseline that can shrink, and a summary for the log.
    `prefix` leads from the repository to the library, as `kitchen/`."""
    for told in result.told:
        yield _annotation(told, prefix)
    if result.hidden is not None:
        lines = list(hidden_lines(result.hidden))
        if lines:
            place = f"file={_property(result.hidden.baseline)},title=baseline"
            yield f"::notice {place}::{_data(chr(10).join(lines))}"
    yield printable(summary(result))


def _annotation(told: LocatedFinding, prefix: str) -> str:
    finding, place = told.finding, told.range
    properties = {"file": normpath(prefix + place.path), "line": str(place.start.line), "endLine": str(place.end.line)}
    if place.start.line == place.end.line:
        properties |= {"col": str(place.start.column), "endColumn": str(place.end.column)}
    properties["title"] = finding.rule
    said = ",".join(f"{key}={_property(value)}" for key, value in properties.items())
    return f"::{_COMMANDS.get(finding.severity, 'notice')} {said}::{_data(_message(told))}"


def _message(told: LocatedFinding) -> str:
    finding = told.finding
    lines = [finding.message]
    for figure in finding.figures:
        note = f" ({figure.note})" if figure.note else ""
        lines.append(f"{figure.label}: {figure.value}{note}")
    lines += [f"rule: {finding.source}"] if finding.source else []
    lines += [f"fix: {finding.help}"] if finding.help else []
    return "\n".join(lines)


def _data(text: str) -> str:
    return visible_lines(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
