"""The tool is held to verdicts that published rules, cards and memos give on a text, and to what nobody may pass over.

What it does not judge rightly yet stands in `open.toml`, with what is missing; nothing is skipped.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from tests.harness.verdicts import VerdictCase, judge, verdict_cases_of

FOLDER = Path(__file__).parent
CASES = [
    case
    for path in sorted(FOLDER.glob("*/*.md"))
    for case in verdict_cases_of(path, path.relative_to(FOLDER).as_posix())
]
GROUPS: dict[str, dict[str, str]] = tomllib.loads((FOLDER / "open.toml").read_text(encoding="utf-8"))
OPEN = {name: missing for group in GROUPS.values() for name, missing in group.items()}
CRASHES = GROUPS.get("crashes", {})
COUNTED = {"safety": 72, "menus": 97, "recipes": 35, "silent": 19}
"""How many verdicts each folder holds; none may go missing unseen."""


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_text_is_judged_as_published(case: VerdictCase) -> None:
    """What must be said is said, and what must not be said is not; a case of `open.toml` differs, or its line is stale."""
    judged = judge(case)
    assert judged.unreadable == []
    assert bool(judged.crash) == (case.name in CRASHES), judged.crash or "it crashes no more: take it from `crashes`"
    if case.name in OPEN:
        assert judged.differences != [], f"`{case.name}` is judged rightly now: remove it from open.toml"
    else:
        assert judged.differences == []


def test_open_list_names_cases_and_what_they_lack() -> None:
    """Each once, with a sentence; a case that is no verdict of its source can't be open."""
    counted = {case.name for case in CASES if not case.not_counted}
    assert [name for name in OPEN if name not in counted] == []
    assert sum(len(group) for group in GROUPS.values()) == len(OPEN)
    assert [name for name, missing in OPEN.items() if not missing.endswith(".")] == []


def test_no_verdict_went_missing() -> None:
    assert Counter(case.case.path.split("/")[0] for case in CASES if not case.not_counted) == COUNTED


def test_no_two_cases_of_a_file_have_one_name() -> None:
    assert [name for name, count in Counter(case.name for case in CASES).items() if count > 1] == []
