"""`check --school-year`: what another year's rules change against the library's own, whatever those rules are."""

from __future__ import annotations

import json
from pathlib import Path

from recipelang.findings.finding import Figure
from recipelang.output.besides import years_lines
from recipelang.workspace.rule_year_diff import Change, Years, changes
from tests.commands.conftest import Command
from tests.output.results import told

OVER = (Figure("found", "found", "1,300 mg"), Figure("needed", "most", "1,280 mg"))
LESS = (Figure("found", "found", "1,300 mg"), Figure("needed", "most", "1,150 mg"))


def test_findings_gained_and_lost_are_grouped_by_rule() -> None:
    own = [told("sodium-over", declaration="week 1", line=3), told("calories-out-of-range", declaration="week 1")]
    other = [told("sodium-over", declaration="week 1", line=3), told("sodium-over", declaration="week 2", line=9)]
    assert changes(own, other) == (
        Change("calories-out-of-range", (), ("week 1",), ()),
        Change("sodium-over", ("week 2",), (), ()),
    )


def test_the_same_findings_change_nothing() -> None:
    assert changes([told()], [told()]) == ()
    assert changes([], []) == ()


def test_a_finding_with_another_limit_is_neither_gained_nor_lost() -> None:
    assert changes([told("sodium-over", figures=OVER)], [told("sodium-over", figures=LESS)]) == (
        Change("sodium-over", (), (), ("peach cup",)),
    )


def test_a_finding_that_weighs_more_is_told() -> None:
    assert changes([told(severity="warning")], [told(severity="error")])[0].differing == ("peach cup",)


def test_several_at_one_place_are_counted() -> None:
    """Two of a rule at one place become three, one of them with another figure."""
    own = [told("sodium-over", figures=OVER), told("sodium-over", message="Another.")]
    other = [told("sodium-over", figures=LESS), told("sodium-over", message="Another."), told("sodium-over")]
    assert changes(own, other) == (Change("sodium-over", ("peach cup",), (), ("peach cup",)),)


def test_what_is_in_no_declaration_is_named_by_its_file() -> None:
    assert changes([], [told(declaration="")])[0].gained == ("cups.recipe",)


def test_the_section_reads() -> None:
    one = Change("sodium-over", ("week 2", "week 2", "week 3"), ("week 1",), ("week 4",))
    assert list(years_lines(Years("2026-27", "2027-28", (one,)))) == [
        "What school year 2027-28 changes against 2026-27, the library's own:",
        "  sodium-over",
        "    3 gained: week 2 (2) and week 3",
        "    1 lost: week 1",
        "    1 with other figures: week 4",
    ]
    assert list(years_lines(Years("2026-27", "2027-28", ()))) == [
        "School year 2027-28 changes nothing against 2026-27, the library's own."
    ]


def test_another_year_brings_the_section(library: Path, command: Command) -> None:
    done = command("check", "--school-year", "2027-28")
    assert "School year 2027-28 changes nothing against 2026-27, the library's own." in done.out
    assert "rules of school year 2027-28" in done.out
    summary = json.loads(command("check", "--school-year", "2027-28", "--format", "json").out)["summary"]
    assert summary["against_own_year"] == {"own": "2026-27", "other": "2027-28", "rules": []}


def test_the_librarys_own_year_brings_none(library: Path, command: Command) -> None:
    assert "the library's own" not in command("check", "--school-year", "2026-27").out
    assert "the library's own" not in command("check").out


def test_a_library_without_a_year_has_nothing_to_compare_with(library: Path, command: Command) -> None:
    (library / "recipelang.toml").write_text("[library]\n", encoding="utf-8")
    assert "the library's own" not in command("check", "--school-year", "2027-28").out
