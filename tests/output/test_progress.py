"""How far a check is: on a terminal, after a second, on standard error; findings stay alone on standard output."""

from __future__ import annotations

import io
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from recipelang.output.progress import progress
from tests.commands.conftest import SLIP


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


class Clock:
    """Time that goes on by a step whenever it is asked for."""

    def __init__(self, step: float) -> None:
        self.step = step
        self.now = 0.0

    def __call__(self) -> float:
        self.now += self.step
        return self.now


def shown(step: float, total: int, out: io.StringIO) -> str:
    with progress(out, Clock(step)) as told:
        for done in range(1, total + 1):
            if told is not None:
                told(done, total)
    return out.getvalue()


def test_quick_work_shows_nothing() -> None:
    assert shown(0.01, 20, Terminal()) == ""


def test_long_work_shows_how_far_it_is_and_wipes_the_line() -> None:
    text = shown(0.6, 4, Terminal())
    assert "\rchecking [############............] 2 of 4" in text
    assert "4 of 4" in text
    assert text.endswith(" \r")
    assert "\n" not in text


def test_the_line_is_not_written_for_every_step() -> None:
    assert shown(0.02, 200, Terminal()).count("\rchecking") < 40


def test_nobody_watches_a_pipe() -> None:
    assert shown(10, 4, io.StringIO()) == ""


def test_the_line_is_wiped_when_work_is_stopped() -> None:
    out = Terminal()

    def stopped() -> None:
        with progress(out, Clock(2)) as told:
            assert told is not None
            told(1, 9)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert out.getvalue().endswith(" \r")


def test_on_a_terminal_standard_output_holds_findings_alone(library: Path) -> None:
    """Standard error is a terminal here, standard output a pipe; every moment counts as long work."""
    (library / "new.recipe").write_text(SLIP, encoding="utf-8")
    main, terminal = pty.openpty()
    code = (
        "import recipelang.output.progress as one; one.QUIET_SECONDS = one._STEP_SECONDS = 0.0\n"
        "from recipelang.commands import run; import sys; sys.exit(run(['check']))"
    )
    try:
        done = subprocess.run([sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=terminal, check=False)
        os.close(terminal)
        said = os.read(main, 100_000).decode()
    finally:
        os.close(main)
    assert done.returncode == 1
    assert b"checking" not in done.stdout
    assert b"claim-too-high" in done.stdout
    assert "checking [" in said
    assert said.rstrip(" ").endswith("\r")
