"""Sublime Text's syntax, made of the TextMate grammar: the same rules, written as contexts."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, Final

from editors.generate import textmate

FILE: Final = "sublime/recipelang.sublime-syntax"


def text() -> str:
    grammar = textmate.grammar()
    lines = [
        "%YAML 1.2",
        "---",
        f"# {textmate.NOTE}",
        "name: Recipe (recipelang)",
        "file_extensions: [recipe]",
        f"scope: {textmate.SCOPE}",
        "version: 2",
        "contexts:",
        "  main:",
        *_rules(grammar["patterns"], 4),
    ]
    for name, rule in grammar["repository"].items():
        rules = rule["patterns"] if set(rule) == {"patterns"} else [rule]
        lines += [f"  {name}:", *_rules(rules, 4)]
    return "\n".join(lines) + "\n"


def _rules(rules: list[dict[str, Any]], depth: int) -> Iterator[str]:
    for rule in rules:
        yield from _rule(rule, depth)


def _rule(rule: dict[str, Any], depth: int) -> Iterator[str]:
    indent = " " * depth
    if "include" in rule:
        yield f"{indent}- include: {rule['include'].removeprefix('#')}"
        return
    yield f"{indent}- match: {_quoted(rule['match' if 'match' in rule else 'begin'])}"
    if "match" in rule and "name" in rule:
        yield f"{indent}  scope: {rule['name']}"
    yield from _captures(rule.get("captures") or rule.get("beginCaptures"), depth)
    if "begin" in rule:
        yield f"{indent}  push:"
        if "name" in rule:
            yield f"{indent}    - meta_scope: {rule['name']}"
        yield f"{indent}    - match: {_quoted(rule['end'])}"
        yield from _captures(rule.get("endCaptures"), depth + 4)
        yield f"{indent}      pop: true"
        yield from _rules(rule["patterns"], depth + 4)


def _captures(captures: dict[str, dict[str, str]] | None, depth: int) -> Iterator[str]:
    if captures:
        yield f"{' ' * depth}  captures:"
        for number, scope in captures.items():
            yield f"{' ' * depth}    {number}: {scope['name']}"


def _quoted(pattern: str) -> str:
    """A pattern as YAML reads it: JSON's strings are YAML's."""
    return json.dumps(pattern, ensure_ascii=False)
