"""Reading what a command line names, before anything is opened."""

from __future__ import annotations

from pathlib import Path

from recipelang.commands import CommandError
from recipelang.text.school_year import is_school_year


def checked_year(year: str) -> str:
    """A school year as it was typed. Raises CommandError for anything else."""
    if year and not is_school_year(year):
        raise CommandError(f"`{year}` is not a school year; write it like 2026-27")
    return year


def existing(paths: list[str]) -> list[Path]:
    """The paths named. Raises CommandError for one that is not there."""
    for path in paths:
        if not Path(path).exists():
            raise CommandError(f"there is no file or folder {path}")
    return [Path(path) for path in paths]
