"""Every rule's manual page runs: its example breaks it where it says, its fixed form and its neighbors do not."""

from __future__ import annotations

import pytest

from recipelang.rules.catalogue import Page, names, page, rules
from recipelang.workspace.config import Config, parse_config
from recipelang.workspace.workspace import Workspace
from tests.harness.checking import check, differences

PAGES = [found for name in names() if (found := page(name)) is not None]
IDS = [one.name for one in PAGES]

RECIPES = [one for one in PAGES if one.area != "library"]
"""Pages whose examples are in the notation. Those about files and settings are run where commands are tested."""
RECIPE_IDS = [one.name for one in RECIPES]


def asking_for(found: Page) -> Config:
    """A configuration that switches a rule on where it is off unless asked for, with the settings that its page names."""
    one = rules()[found.name]
    config = parse_config(found.section("Settings"))
    assert config.problems == ()
    return config._replace(rules=((found.name, one.severity),)) if one.default_off else config


@pytest.mark.parametrize("one", PAGES, ids=IDS)
def test_page_is_complete(one: Page) -> None:
    """A summary in one sentence, why, a source, an example that breaks the rule and its fixed form."""
    assert one.summary.endswith(".")
    for section in ("Why", "Source", "Breaks", "Fixed"):
        assert one.section(section).strip(), section


@pytest.mark.parametrize("one", RECIPES, ids=RECIPE_IDS)
def test_example_breaks_the_rule_where_it_says(one: Page) -> None:
    text = one.section("Breaks")
    assert one.name in text
    assert differences(text, {one.name}, asking_for(one)) == []


@pytest.mark.parametrize("one", RECIPES, ids=RECIPE_IDS)
def test_mended_form_is_silent(one: Page) -> None:
    assert differences(one.section("Fixed"), {one.name}, asking_for(one)) == []


@pytest.mark.parametrize("one", RECIPES, ids=RECIPE_IDS)
def test_neighbours_are_left_alone(one: Page) -> None:
    assert differences(one.section("Leaves alone"), {one.name}, asking_for(one)) == []


@pytest.mark.parametrize("one", RECIPES, ids=RECIPE_IDS)
def test_fixes_clear_the_finding(one: Page) -> None:
    """Each fix that a broken example offers, applied to the text, leaves one finding of the rule less."""
    text = one.section("Breaks")
    before = check(text, {one.name}, asking_for(one))
    workspace = Workspace.of({"test.recipe": text}, asking_for(one))
    for found in before:
        for fix in found.finding.fixes:
            fixed = text
            for edit in sorted(fix.edits, key=lambda edit: -edit.place.start):
                file = workspace.files["test.recipe"]
                offset = file.by_home[edit.place.home].start
                fixed = fixed[: offset + edit.place.start] + edit.text + fixed[offset + edit.place.end :]
            assert len(check(fixed, {one.name}, asking_for(one))) == len(before) - 1, fix.title


def test_every_rule_has_a_page_and_every_page_a_rule() -> None:
    assert set(rules()) == {one.name for one in PAGES}
