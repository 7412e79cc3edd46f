"""`--baseline` and `--write-baseline` of a check."""

from __future__ import annotations

import sys
from pathlib import Path

from recipelang.commands import CommandError
from recipelang.findings.wording import counted
from recipelang.text.writing import write_whole
from recipelang.workspace.baseline import (
    BadBaseline,
    Baseline,
    baseline_of,
    baseline_text,
    hide,
    may_hold,
    read_baseline,
)
from recipelang.workspace.report import Result


def with_baseline(result: Result, own: Result | None, read: str, written: str) -> tuple[Result, Result | None]:
    """A result less what a baseline hides, and the same of the library's own year.

    `read` names the baseline to use. `written` names one to write: all that is found now, or with `read` what that one
    hides and still is found, so that it only ever shrinks. Raises CommandError.
    """
    name = written or read
    baseline = _read(read) if read else None
    if written:
        if not result.is_whole:
            raise CommandError("a baseline is written for a whole library; name no file or folder in it")
        baseline = baseline_of(result, baseline)
        _write(written, baseline, result)
    assert baseline is not None
    return hide(result, baseline, name), hide(own, baseline, name) if own is not None else None


def _read(name: str) -> Baseline:
    if not Path(name).exists():
        raise CommandError(f"there is no baseline {name}; `--write-baseline {name}` makes one")
    try:
        return read_baseline(Path(name))
    except BadBaseline as error:
        raise CommandError(str(error)) from None


def _write(name: str, baseline: Baseline, result: Result) -> None:
    try:
        write_whole(Path(name), baseline_text(baseline))
    except OSError as error:
        raise CommandError(f"{name} can't be written: {(error.strerror or 'it is no file').lower()}") from None
    print(f"{name} holds {counted(sum(baseline.values()), 'finding')}", file=sys.stderr)
    hard = sum(not may_hold(told) for told in result.told)
    if hard:
        print(f"{counted(hard, 'finding')} can't be put in a baseline and must be fixed", file=sys.stderr)
