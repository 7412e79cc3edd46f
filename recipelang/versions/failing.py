"""What makes a comparison fail a build: conditions as they are written on a command line, such as `credits`, `cost:0.05`,
`sodium:5%`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from recipelang.facts.outcome.values import Sum
from recipelang.findings.finding import ERROR
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import counted, listed
from recipelang.model.vocabulary import NUTRIENT_SPELLINGS, NUTRIENTS
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number
from recipelang.versions.comparison import Comparison
from recipelang.versions.effects import (
    ALLERGENS,
    CREDITS,
    FINDINGS,
    YIELD,
    Effect,
    allergen_comes,
    credit_falls,
    is_less,
    rise,
)

_PLAIN: Final = ("credits", "allergens", "yield", "keeps", "process", "errors", "any")
WORDS: Final = ("credits", "allergens", "cost", "yield", "keeps", "process", "errors", "any")


class UnknownCondition(ValueError):
    """A condition that means nothing; the message says so in one sentence."""


class Condition(Record):
    """What must not happen."""

    word: str
    most: Fraction = Fraction(0)
    """How much a sum may rise: in its unit, or as a share."""
    is_share: bool = False

    @property
    def text(self) -> str:
        """The condition as it is written."""
        if not self.most:
            return self.word
        return f"{self.word}:{self.most * 100}%" if self.is_share else f"{self.word}:{float(self.most):g}"


def conditions(text: str) -> list[Condition]:
    """The conditions of a list such as `credits,cost:0.05,sodium:5%`. Raises UnknownCondition."""
    return [_condition(one.strip().casefold()) for one in text.split(",") if one.strip()]


def _condition(text: str) -> Condition:
    word, _, amount = text.partition(":")
    word = NUTRIENT_SPELLINGS.get(word.strip(), word.strip())
    if word in _PLAIN:
        if amount:
            raise UnknownCondition(
                f"`{word}` takes no amount; only cost and nutrients do, as in `cost:0.05` or `sodium:5%`"
            )
        return Condition(word)
    if word != "cost" and word not in NUTRIENTS:
        near = nearest(word, [*WORDS, *NUTRIENTS], 1)
        hint = f"; did you mean `{near[0]}`?" if near else ""
        raise UnknownCondition(f"`{word}` is nothing to fail on; there are {listed(WORDS)}, and the nutrients{hint}")
    try:
        share = amount.strip().endswith("%")
        most = read_number(amount.strip().removesuffix("%").strip()) if amount else Fraction(0)
    except UnreadableNumber as error:
        raise UnknownCondition(f"`{text}`: {error}") from None
    if most < 0:
        raise UnknownCondition(f"`{text}`: a rise is more than nothing")
    return Condition(word, most / 100 if share else most, share)


def failures(made: Comparison, wanted: list[Condition]) -> list[str]:
    """What happened of what must not, a sentence each."""
    return [sentence for one in wanted for sentence in _failure(made, one)]


def _failure(made: Comparison, wanted: Condition) -> Iterator[str]:
    found = list(dict.fromkeys(made.name(one.ref) for one in made.all_effects if _breaks(made, one, wanted)))
    if found:
        shown = [*found[:5], f"{len(found) - 5} more"] if len(found) > 6 else found
        yield f"fails on {wanted.text}: {counted(len(found), 'declaration')} ({listed(shown)})"


def _breaks(made: Comparison, one: Effect, wanted: Condition) -> bool:
    word = wanted.word
    if word == "any":
        return True
    if word == "errors":
        return one.category == FINDINGS and one.came and one.finding is not None and one.finding.severity == ERROR
    if word == CREDITS:
        return one.category == CREDITS and credit_falls(one.before, one.after)
    if word == ALLERGENS:
        return one.category == ALLERGENS and allergen_comes(one.name, one.before, one.after, made.was_unknown(one.ref))
    if word == "yield":
        return one.category == YIELD
    if word == "keeps":
        return one.name.startswith("keeps ") and (one.after is None or is_less(one.before, one.after) is True)
    if word == "process":
        return one.name in ("process", "computed process", "needs control")
    return one.name in (word, f"nutrient {word}") and _rises(one, wanted)


def _rises(one: Effect, wanted: Condition) -> bool:
    """Whether a sum rises by more than it may. One that is no longer known may have."""
    if isinstance(one.before, Sum) and one.before.known is not None and (one.after is None or _is_unknown(one)):
        return True
    found = rise(one.before, one.after)
    if found is None:
        return False
    if wanted.is_share:
        before = one.before.known if isinstance(one.before, Sum) else None
        return not before or found / before > wanted.most
    return found > wanted.most


def _is_unknown(one: Effect) -> bool:
    return isinstance(one.after, Sum) and one.after.known is None
