"""`recipelang explain`: the list of rules, a rule's page, and the nearest to a misspelled one."""

from __future__ import annotations

import pytest

from recipelang.rules.catalogue import AREAS, names
from tests.commands.conftest import Command


def test_without_a_rule_all_are_listed_by_area(command: Command) -> None:
    done = command("explain")
    assert done.code == 0
    lines = done.out.splitlines()
    for area in AREAS:
        assert area in lines
    for name in names():
        assert sum(line.split()[:1] == [name] for line in lines) == 1


@pytest.mark.parametrize("name", names())
def test_every_rule_explains_itself(command: Command, name: str) -> None:
    """Name, severity and area, why, source, an example that breaks it, the fixed one, and how to allow it."""
    done = command("explain", name)
    assert done.code == 0
    assert done.out.startswith(f"{name}  (")
    for heading in ("\nWhy\n", "\nSource\n", "\nBreaks it\n", "\nFixed\n"):
        assert heading in done.out
    assert f"allow {name}: " in done.out or f"{name} can't be" in done.out
    assert "^^^" not in done.out, "the markers of tests are no part of the notation"
    assert "//@" not in done.out


def test_a_misspelt_rule_gets_the_nearest(command: Command) -> None:
    done = command("explain", "claim-to-high")
    assert (done.code, done.out) == (2, "")
    assert done.err == "recipelang: no rule is called `claim-to-high`; did you mean claim-too-high?\n"


def test_a_rule_that_is_nothing_like_one_gets_the_list(command: Command) -> None:
    done = command("explain", "zzzzzz")
    assert done.code == 2
    assert "`recipelang explain` lists them" in done.err


def test_case_is_free(command: Command) -> None:
    assert command("explain", "Claim-Too-High").code == 0
