"""The rules that other programs, configurations and allowances name exist, and stay named so."""

from __future__ import annotations

import re

import pytest

from recipelang.rules.catalogue import AREAS, names, page, rules
from tests.architecture.project import PACKAGE, modules

FIXED = """
    bad-config unreadable-file too-many-findings
    syntax unknown-name duplicate-name circular-recipe unused-ingredient unknown-ingredient repeated-field
    missing-field misplaced-line unused-allowance allowance-without-reason
    unknown-unit dimension-mismatch missing-density weight-measure-disagree columns-disagree amounts-used-disagree
    yield-disagrees ounces-for-fluid-ounces
    overfilled-container
    claim-too-high claim-too-low undocumented-credit credited-twice credit-on-edge credit-exceeds-portion
    below-creditable-amount grain-methods-mixed
    allergen-claim-broken allergen-unknown
    missing-price
"""
"""Names that libraries have written into their configurations and allowances. None may be renamed."""

SECTIONS = ("Why", "Source", "Breaks", "Fixed")


@pytest.mark.parametrize("name", FIXED.split())
def test_the_rule_exists(name: str) -> None:
    assert name in names()


@pytest.mark.parametrize("name", names())
def test_the_page_is_complete(name: str) -> None:
    found = page(name)
    assert found is not None
    assert re.fullmatch(r"[A-Z0-9`].*\.", found.summary)
    assert len(found.summary) <= 120, "one line in the list of rules"
    for section in SECTIONS:
        assert found.section(section).strip(), section


@pytest.mark.parametrize("name", names())
def test_the_name_says_what_is_wrong(name: str) -> None:
    """It is read after `allow`: small letters and hyphens, no number, no code."""
    assert re.fullmatch(r"[a-z]+(?:-[a-z]+)*", name)


def test_rules_are_found_by_their_folder() -> None:
    """Nothing lists the rules: a new file is a new rule. Modules that rules share begin with an underscore."""
    files = {
        path.stem.replace("_", "-")
        for area in AREAS
        for path in (PACKAGE / "rules" / area).glob("*.py")
        if not path.stem.startswith("_")
    }
    assert files == set(names()) == set(rules())


def test_no_rule_names_another() -> None:
    """A rule knows facts, not other rules: taking a rule away breaks no other."""
    for module in modules():
        if module.layer != "rules" or module.path.stem.startswith("_") or module.path.parent.name == "rules":
            continue
        for found in module.imports:
            parts = found.module.split(".")
            if parts[:2] == ["recipelang", "rules"] and len(parts) > 3:
                assert parts[3].startswith("_"), f"{module.name}:{found.line} imports {found.module}"
