"""Which change did what: one candidate, several, changes that need each other, lines of one declaration, and the road."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from recipelang.facts.outcome.values import Sum
from recipelang.versions.causes import SETTINGS, Causes
from recipelang.versions.comparison import Comparison, compare
from recipelang.versions.inventory import Inventory, cut
from recipelang.versions.sources import Version
from recipelang.workspace.config import Config, parse_config
from tests.changes.conftest import CUPS, FOODS


def version(*texts: str, config: Config | None = None) -> Version:
    files = {f"{number}.recipe": cut(text.encode()) for number, text in enumerate(texts)}
    return Version("a version", (), Inventory(files), config or Config(school_year="2026-27"))


def between(older: str, newer: str) -> Comparison:
    return compare(version(older), version(newer))


def causes(made: Comparison, ref: str, name: str) -> Causes:
    """The causes of a figure, or of the finding of a rule."""
    found = [one for one in made.effects if one.ref == ref and one.name == name]
    assert found, [(one.ref, one.name) for one in made.effects]
    return found[0].causes


def names(found: Causes) -> list[str]:
    return [one.ref for one in found.causes]


BOTH = FOODS + "\n" + CUPS
SOY = ("contains      milk\n", "contains      milk, soy\n")
CRISP = ("contains      wheat\n", "contains      wheat, soy\n")
PRICE = ("price         1.50 per lb", "price         2.50 per lb")


def test_one_change_is_the_cause_of_everything() -> None:
    made = between(BOTH, BOTH.replace(*SOY))
    assert {tuple(names(one.causes)) for one in made.effects} == {("whipped ricotta",)}


def test_two_that_each_bring_an_allergen_are_both_the_cause() -> None:
    """Neither is needed, since the other brings it too; each would bring it by itself."""
    made = between(BOTH, BOTH.replace(*SOY).replace(*CRISP))
    found = causes(made, "pear ricotta cup", "contains soy")
    assert names(found) == ["rye crisp", "whipped ricotta"]
    assert not found.together
    assert names(causes(made, "plain ricotta cup", "contains soy")) == ["whipped ricotta"]


def test_what_has_nothing_to_do_with_it_is_no_cause() -> None:
    made = between(BOTH, BOTH.replace(*SOY).replace(*PRICE))
    assert names(causes(made, "pear ricotta cup", "contains soy")) == ["whipped ricotta"]
    assert names(causes(made, "pear ricotta cup", "cost")) == ["diced pears"]


def test_prices_add_up() -> None:
    made = between(BOTH, BOTH.replace(*PRICE).replace("price         0.20 each", "price         0.30 each"))
    found = causes(made, "pear ricotta cup", "cost")
    assert {one.ref: one.share for one in found.causes} == {
        "diced pears": Fraction(24 * 200 * 1, 48) / Fraction(45359237, 100000),
        "rye crisp": Fraction(1, 10),
    }
    assert not found.together


def test_an_amount_and_a_price_of_the_same_food_do_not_add_up() -> None:
    newer = BOTH.replace(*PRICE).replace(
        "        6 qt              diced pears\n        48 each",
        "        5 qt              diced pears\n        48 each",
    )
    found = causes(between(BOTH, newer), "pear ricotta cup", "cost")
    assert names(found) == ["diced pears", "pear ricotta cup"]
    assert [one.share for one in found.causes] == [None, None]
    assert found.together


def test_two_that_break_a_claim_only_together() -> None:
    """72 portions of fruit, a little less of it, still credit half a cup; both changes take it below."""
    older = BOTH.replace(
        "        6 qt              diced pears\n        48 each",
        "        6 qt 1 cup              diced pears\n        48 each",
    )
    newer = older.replace("6 qt 1 cup ", "6 qt ").replace(
        "makes         48 portions of 3/4 cup", "makes         50 portions of 3/4 cup"
    )
    found = causes(between(older, newer), "pear ricotta cup", "credits fruit")
    assert names(found) == ["pear ricotta cup"]
    assert len(found.causes[0].hunks) == 2


def test_the_line_of_a_declaration_with_several_changes() -> None:
    newer = BOTH.replace(
        "        6 lb              whipped ricotta\n",
        "        7 lb              whipped ricotta\n        1 lb              sesame paste\n",
    )
    newer = newer.replace("keeps         72 h cold", "keeps         48 h cold")
    newer += "\nfood sesame paste\n    contains sesame\n    label read 2026-08-01\n"
    older = BOTH + "\nfood sesame paste\n    contains sesame\n    label read 2026-08-01\n"
    made = between(older, newer)
    texts = made.cause("pear ricotta cup").lines
    shown = {
        name: [texts[line] for cause in causes(made, "pear ricotta cup", name).causes for line in made.lines_of(cause)]
        for name in ("contains sesame", "keeps cold", "credits meat/meat alternate")
    }
    assert shown["contains sesame"] == [("6 lb whipped ricotta", "7 lb whipped ricotta"), ("", "1 lb sesame paste")]
    assert shown["keeps cold"] == [("keeps 72 h cold", "keeps 48 h cold")]


def test_lines_that_stand_in_each_others_place_are_told_apart() -> None:
    newer = BOTH.replace(
        "        calories  150\n        sodium    100 mg", "        calories  160\n        sodium    120 mg"
    )
    made = between(BOTH, newer)
    lines = made.cause("whipped ricotta").lines
    (sodium,) = causes(made, "pear ricotta cup", "nutrient sodium").causes
    assert [lines[at] for at in made.lines_of(sodium)] == [("sodium 100 mg", "sodium 120 mg")]


def test_a_line_that_can_not_stand_alone_has_its_partner() -> None:
    newer = BOTH.replace(
        "6 qt              diced pears\n        48 each", "6 qt              diced pears, called fruit\n        48 each"
    )
    newer = newer.replace("spoon [diced pears] over it", "spoon [5 qt fruit] over it")
    made = between(BOTH, newer)
    found = [one for one in made.effects if one.finding is not None and one.came and one.ref == "pear ricotta cup"]
    assert found
    assert all(len(one.causes.causes[0].hunks) == 2 for one in found)


def test_the_road_goes_through_what_it_is_made_of() -> None:
    tray = "\nrecipe ricotta tray\n    makes 48 portions of 1 cup\n    ingredients\n        48 portions plain ricotta cup\n"
    made = between(BOTH + tray, (BOTH + tray).replace(*SOY))
    assert made.road("ricotta tray", "whipped ricotta") == [
        "ricotta tray", "plain ricotta cup", "pear ricotta cup", "whipped ricotta",
    ]  # fmt: skip


def test_the_settings_are_a_cause_of_their_own() -> None:
    text = BOTH.replace("    price         1.50 per lb\n", "")
    older = version(text, config=Config(school_year="2026-27"))
    newer = version(text.replace(*SOY), config=parse_config('[rules]\nmissing-price = "error"\n'))
    made = compare(older, newer)
    assert names(causes(made, "pear ricotta cup", "missing-price")) == [SETTINGS]
    assert names(causes(made, "pear ricotta cup", "contains soy")) == ["whipped ricotta"]


def test_what_was_taken_away_is_the_cause_of_what_is_missing() -> None:
    start, end = BOTH.index("food rye crisp"), BOTH.index("food sea salt")
    made = between(BOTH, BOTH[:start] + BOTH[end:])
    found = causes(made, "pear ricotta cup", "credits grain")
    assert names(found) == ["rye crisp"]
    assert made.cause("rye crisp").what == "taken away"


EDITS = [
    ("price         40.00 per case", "price         {} per case"),
    ("price         1.50 per lb", "price         {} per lb"),
    ("price         0.20 each", "price         {} each"),
    ("sodium    100 mg", "sodium    {} mg"),
    ("sodium    140 mg", "sodium    {} mg"),
    ("        6 lb              whipped", "        {} lb              whipped"),
    ("        48 each           rye", "        {} each           rye"),
]


@given(st.dictionaries(st.sampled_from(range(len(EDITS))), st.integers(1, 90), min_size=1, max_size=4))
def test_shares_add_up_where_they_are_given(edits: dict[int, int]) -> None:
    newer = BOTH
    for number, value in edits.items():
        old, new = EDITS[number]
        assert old in newer
        newer = newer.replace(old, new.format(value), 1)
    for effect in between(BOTH, newer).effects:
        shares = [one.share for one in effect.causes.causes]
        if len(shares) > 1 and None not in shares and isinstance(effect.before, Sum) and isinstance(effect.after, Sum):
            assert effect.before.known is not None
            assert effect.after.known is not None
            assert sum(shares, Fraction(0)) == effect.after.known - effect.before.known
        assert effect.causes.causes


@given(st.sampled_from(range(len(EDITS))), st.integers(1, 90))
def test_something_unrelated_changes_no_report(number: int, value: int) -> None:
    old, new = EDITS[number]
    newer = BOTH.replace(old, new.format(value), 1)
    alone = between(BOTH, newer)
    more = "\nfood plain ice\n    price 0.01 per lb\n    contains none of the nine\n    label read 2026-08-01\n"
    beside = between(BOTH + more, newer + more)
    assert [(one.ref, one.name, one.before, one.after) for one in alone.effects] == [
        (one.ref, one.name, one.before, one.after) for one in beside.effects
    ]


def test_the_examples_reformulated() -> None:
    """A supplier's new ricotta in the example library: the effects that can be read off the recipes by hand."""
    root = Path(__file__).resolve().parents[2] / "examples"
    texts = [path.read_text(encoding="utf-8") for path in sorted(root.rglob("*.recipe")) if "broken" not in path.parts]
    older = version(*texts)
    newer = version(*[text.replace(
        "    contains      milk\n    arrives       ready to eat\n    tcs\n    keeps         21 d cold, 5 d opened\n    credits       1 oz eq meat/meat alternate per 2 oz as served\n    evidence      product",
        "    contains      milk, soy\n    arrives       ready to eat\n    tcs\n    keeps         21 d cold, 5 d opened\n    credits       1 oz eq meat/meat alternate per 2 oz as served\n    evidence      product",
    ) for text in texts])  # fmt: skip
    made = compare(older, newer)
    gained = {one.ref for one in made.effects if one.name == "contains soy"}
    assert gained == {"whipped ricotta", "apricot ricotta cup", "apricot ricotta lunch cup", "pear ricotta cup"}
    assert [one.ref for one in made.effects if one.name == "allergen-claim-broken"] == ["apricot ricotta cup"]
    assert {one.name for one in made.effects} == {"contains soy", "allergen-claim-broken"}
