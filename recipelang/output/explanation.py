"""A rule's manual page and the catalogue of rules, as text."""

from __future__ import annotations

import re
import textwrap

from recipelang.rules.catalogue import AREAS, Page, page, rules
from recipelang.rules.rule import Rule

_MARKER = re.compile(r"^[ \t]*//(?:@|=|[ \t]*\^).*\n?", re.MULTILINE)
_WIDTH = 100


def page_text(found: Page, rule: Rule) -> str:
    """The page: what the rule checks, why, its source, an example that breaks it and the fixed one."""
    parts = [f"{found.name}  ({_severity(rule)}, {found.area})", "", *_wrapped(found.summary), ""]
    for title in ("Why", "Source"):
        parts += [title, *_wrapped(found.section(title), "    "), ""]
    if found.section("Settings"):
        parts += ["Asked for in recipelang.toml by", textwrap.indent(found.section("Settings"), "    "), ""]
    parts += ["Breaks it", textwrap.indent(without_markers(found.section("Breaks")), "    "), ""]
    parts += ["Fixed", textwrap.indent(without_markers(found.section("Fixed")), "    "), ""]
    if found.section("Leaves alone"):
        parts += ["Is left alone", textwrap.indent(without_markers(found.section("Leaves alone")), "    "), ""]
    parts += _wrapped(_allowing(rule))
    return "\n".join(parts).rstrip() + "\n"


def without_markers(text: str) -> str:
    """An example without the markers that tests read."""
    return _MARKER.sub("", text + "\n").rstrip("\n")


def catalogue_text() -> str:
    """All rules by area, a line each."""
    lines: list[str] = []
    for area in AREAS:
        lines += [area, ""]
        for name, rule in rules().items():
            found = page(name)
            if rule.area == area and found is not None:
                lines.append(f"    {name:<26} {rule.severity:<8} {found.summary}")
        lines.append("")
    lines.append("`recipelang explain RULE` prints a rule's page.")
    return "\n".join(lines) + "\n"


def _severity(rule: Rule) -> str:
    return f"{rule.severity}, off unless asked for" if rule.default_off else rule.severity


def _allowing(rule: Rule) -> str:
    if rule.hard and not rule.may_allow:
        return f"{rule.name} can't be switched off or allowed."
    text = f"To allow it once, write `// allow {rule.name}: why` on the line or above it."
    if rule.hard:
        return f"{text} It stays in every report, and no configuration or baseline hides it."
    change = f'To change it for a library, write `{rule.name} = "off"` (or hint, warning, error) under `[rules]` in recipelang.toml.'
    return f"{text} {change}" if rule.may_allow else f"{rule.name} can't be allowed. {change}"


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(" ".join(text.split()), _WIDTH, initial_indent=indent, subsequent_indent=indent)
