"""The lines of a food that say how much of it is creditable grain, and how much is other grain."""

from __future__ import annotations

from recipelang.model.food import GrainShare
from recipelang.model.values import Problems, quantity_of, share_of
from recipelang.syntax import tree
from recipelang.syntax.tree import Problem, Word
from recipelang.units.amount import Quantity
from recipelang.units.fraction import ONE, ZERO, Fraction
from recipelang.units.table import MASS


def grain_share(line: tree.CreditableGrain, problems: Problems) -> GrainShare | None:
    """How much of a food is creditable grain; None where the line can't be used."""
    if line.per is None:
        share = share_of(line.amount, problems)
        if share is None:
            return None
        return GrainShare(share, None, None, ONE if line.kind == "whole" else ZERO, bool(line.kind))
    grams = quantity_of(line.amount, problems)
    per = quantity_of(line.per, problems, True)
    if grams is None or per is None or not is_mass(grams, line.amount, problems):
        return None
    whole = ZERO
    if line.whole is not None:
        part = quantity_of(line.whole, problems)
        if part is None or not is_mass(part, line.whole, problems):
            return None
        whole = part.base / grams.base
        if whole > 1:
            problems.append(
                Problem(line.whole.start, line.whole.end, "impossible-amount",
                        f"{line.whole.text} of whole grain is more than the {line.amount.text} of creditable grain.")
            )  # fmt: skip
            return None
    return GrainShare(None, grams.base, per, whole, line.whole is not None)


def other_grain(line: tree.OtherGrain, problems: Problems) -> tuple[Fraction | None, Fraction | None, Quantity | None]:
    """Other grain as a share, or as grams of an amount; None for what the line does not give."""
    if line.per is None:
        return share_of(line.amount, problems), None, None
    grams = quantity_of(line.amount, problems)
    per = quantity_of(line.per, problems, True)
    if grams is None or per is None or not is_mass(grams, line.amount, problems):
        return None, None, None
    return None, grams.base, per


def is_mass(quantity: Quantity, word: Word, problems: Problems) -> bool:
    """Whether a quantity is a weight; a problem where it is none."""
    if quantity.dimension == MASS:
        return True
    problems.append(
        Problem(word.start, word.end, "dimension-mismatch", f"`{word.text}` is not a weight.",
                help="write it in g or oz")
    )  # fmt: skip
    return False
