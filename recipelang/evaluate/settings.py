"""What facts need of a library's configuration."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from recipelang.model.measures import Rate
from recipelang.text.record import Record

if TYPE_CHECKING:
    from recipelang.model.dates import Age
    from recipelang.standards.food_code import Local


class Settings(Record):
    """What facts need of a library's configuration."""

    school_year: str = ""
    """The year whose rules a menu without dates is held to."""
    own_units: tuple[Rate, ...] = ()
    tolerances: tuple[tuple[str, Any], ...] = ()
    safety: tuple[tuple[str, str], ...] = ()
    """The library's `[safety]`: the Food Code edition, and stricter local figures."""
    asked_year: str = ""
    """The year that was asked for: dates of menus are moved into it."""
    severities: tuple[tuple[str, str], ...] = ()
    """The library's `[rules]`: what each rule weighs, as it is written."""

    oldest_label: Age | None = None
    """The library's `[labels] oldest`: how long ago a label may have been read."""

    @property
    def local(self) -> Local:
        """The food-safety limits in force."""
        return _local(self.safety)


@lru_cache(maxsize=64)
def _local(safety: tuple[tuple[str, str], ...]) -> Local:
    from recipelang.standards.food_code import local_limits

    return local_limits(safety)
