"""Every literate case holds: its findings and figures are those it marks, and what is fixed is silent."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from tests.harness.cases import Case, cases_of
from tests.harness.checking import differences, unclearing_fixes
from tests.harness.figures import figure_differences

FOLDER = Path(__file__).parent
CASES = [case for path in sorted(FOLDER.glob("*/*.md")) for case in cases_of(path, path.relative_to(FOLDER).as_posix())]
IDS = [f"{case.path}:{case.line} {case.title}" for case in CASES]
MENDED = [case for case in CASES if case.fixed]


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_case_holds(case: Case) -> None:
    rules = None if case.rules is None else set(case.rules)
    assert differences(case.texts, rules, case.config) == []
    assert figure_differences(case.texts) == []


@pytest.mark.parametrize("case", MENDED, ids=[f"{case.path}:{case.line}" for case in MENDED])
def test_mended_text_is_silent(case: Case) -> None:
    rules = None if case.rules is None else set(case.rules)
    assert differences(case.fixed, rules, case.config) == []
    assert figure_differences(case.fixed) == []


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_fixes_clear_their_findings(case: Case) -> None:
    """A fix that the tool offers to make takes the finding away and leaves text that can be read."""
    assert unclearing_fixes(case.texts, None if case.rules is None else set(case.rules), case.config) == []


def test_no_two_cases_of_a_file_promise_the_same() -> None:
    twice = [title for title, count in Counter((case.path, case.title) for case in CASES).items() if count > 1]
    assert twice == []
