"""Every rule about meals, safety and sale that holds a figure against a limit is silent at the limit itself and speaks at
the next step."""

from __future__ import annotations

import pytest

from recipelang.rules.catalogue import module_names
from tests.harness.checking import check, describe
from tests.rules import limits_of_meals, limits_of_safety, limits_of_sale
from tests.rules.boundary import GAP, Boundary
from tests.rules.test_pages import PAGES, asking_for

TABLES = (limits_of_meals, limits_of_safety, limits_of_sale)
LIMITS = [one for table in TABLES for one in table.LIMITS]
PAGE_OF = {one.name: one for one in PAGES}
AREAS = ("meals", "safety", "sale")


def told(one: Boundary, filling: str) -> list[str]:
    """What the rule says with the gap filled; the text must be readable, or silence would prove nothing."""
    text = one.text.replace(GAP, filling)
    unread = [
        describe(found) for found in check(text, {"syntax", "unknown-name", "unknown-unit", "dimension-mismatch"})
    ]
    assert unread == []
    return [describe(found) for found in check(text, {one.rule}, asking_for(PAGE_OF[one.rule]))]


@pytest.mark.parametrize("one", LIMITS, ids=[f"{one.rule}: {one.limit}" for one in LIMITS])
def test_the_limit_is_allowed_and_the_next_step_is_not(one: Boundary) -> None:
    assert GAP in one.text
    assert told(one, one.at) == []
    assert len(told(one, one.beyond)) == 1


def test_every_rule_has_its_limits_listed_or_has_none() -> None:
    rules = {stem.replace("_", "-") for area, stem in module_names() if area in AREAS}
    limited = {one.rule for one in LIMITS}
    unlimited = {name for table in TABLES for name in table.WITHOUT_A_FIGURE}
    assert limited | unlimited == rules
    assert not limited & unlimited
