"""Reading the numbers that a command line names: apart from its other words, since a check reads none."""

from __future__ import annotations

from recipelang.commands import CommandError
from recipelang.units.fraction import Fraction
from recipelang.units.numbers import UnreadableNumber, read_number


def more_than_nothing(text: str, option: str) -> Fraction:
    """A number above zero that an option was given. Raises CommandError for anything else."""
    try:
        value = read_number(text)
    except UnreadableNumber as error:
        raise CommandError(f"{option}: {error}") from None
    if value <= 0:
        raise CommandError(f"{option} must be more than nothing, not {text}")
    return value
