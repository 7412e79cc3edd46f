"""One slip gives one finding, and independent slips give a finding each: what follows from a slip is silent."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipelang.rules.catalogue import names, page
from recipelang.workspace.workspace import Workspace
from tests.properties.libraries import names_in, renamed
from tests.properties.slips import CLEAN, SLIPS, Slip, declarations

DECLARATIONS = declarations()
PAGES = {name: found for name in names() if (found := page(name)) is not None}


def rules(text: str) -> Counter[str]:
    return Counter(one.rule for one in Workspace.of({"library.recipe": text}).findings())


def planted(slips: list[Slip]) -> str:
    text = CLEAN
    for name in {slip.declaration for slip in slips}:
        changed = DECLARATIONS[name]
        for slip in slips:
            if slip.declaration == name:
                changed = slip.planted(changed)
        text = text.replace(DECLARATIONS[name], changed)
    return text


def test_the_library_is_clean() -> None:
    assert rules(CLEAN) == Counter()


@pytest.mark.parametrize("slip", SLIPS, ids=[slip.name for slip in SLIPS])
def test_one_slip_gives_one_finding(slip: Slip) -> None:
    assert rules(planted([slip])) == Counter(slip.rules)


@given(st.lists(st.sampled_from(SLIPS), min_size=2, max_size=6, unique_by=lambda slip: slip.declaration))
def test_slips_in_several_declarations_give_no_more_than_one_each(slips: list[Slip]) -> None:
    """And at least one: a slip can make what rests on it unknown, never right."""
    expected = Counter(rule for slip in slips for rule in slip.rules)
    found = rules(planted(slips))
    assert found <= expected
    assert found


@given(
    st.lists(
        st.sampled_from([slip for slip in SLIPS if slip.rules == ("syntax",)]), min_size=2, max_size=6, unique=True
    )
)
def test_every_line_that_cannot_be_read_is_told_once(slips: list[Slip]) -> None:
    """However many there are in one declaration: each broken line is a slip of its own."""
    places: dict[tuple[str, str], Slip] = {}
    for slip in slips:
        places[slip.declaration, slip.old] = slip
    apart = [slip for slip in places.values() if _stands_apart(slip, list(places.values()))]
    assert rules(planted(apart))["syntax"] == len(apart)


def _stands_apart(slip: Slip, others: list[Slip]) -> bool:
    """Whether a slip is in another line than all others of its declaration, under headers that can be read: what stands
    under one that cannot is nothing until it is fixed."""
    text = DECLARATIONS[slip.declaration]
    taken = [_line_of(text, other) for other in others if other.declaration == slip.declaration and other is not slip]
    own = _line_of(text, slip)
    return own not in (0, *taken) and not {0, *_headers_above(text, own)} & set(taken)


def _line_of(text: str, slip: Slip) -> int:
    return text.count("\n", 0, text.index(slip.old))


def _headers_above(text: str, line: int) -> list[int]:
    """The lines that a line stands under, by their indentation, from within outwards."""
    depths = [len(one) - len(one.lstrip()) for one in text.splitlines()]
    found, depth = [], depths[line]
    for above in range(line - 1, -1, -1):
        if depths[above] < depth and text.splitlines()[above].strip():
            found.append(above)
            depth = depths[above]
    return found


@pytest.mark.parametrize("name", PAGES)
def test_breaking_a_rule_breaks_no_other(name: str) -> None:
    """The example of a rule's page, under all rules: of what its fixed form does not have, only the rule itself."""
    broken, fixed = rules(PAGES[name].section("Breaks")), rules(PAGES[name].section("Fixed"))
    assert set(broken - fixed) <= {name}


@given(
    st.dictionaries(
        st.sampled_from(sorted(PAGES.keys() - {"bad-config", "hides-the-pantry"})),
        st.booleans(),
        min_size=2,
        max_size=6,
    )
)
def test_faults_of_several_libraries_add_up(chosen: dict[str, bool]) -> None:
    """The examples of several rules in one library, broken or fixed, have together what each has alone. The example
    of a broken configuration is none of the notation: as stray text it speaks for the declaration above it, too; and the one
    of a food of the pantry's name can't have another name."""
    texts: list[str] = []
    expected: Counter[str] = Counter()
    for number, (name, is_broken) in enumerate(chosen.items()):
        text = PAGES[name].section("Breaks" if is_broken else "Fixed")
        expected += rules(text)
        texts.append(renamed(text, {one: f"{one} {'xyz'[number % 3]}{number}" for one in names_in(text)}))
    assert rules("\n".join(texts)) == expected
