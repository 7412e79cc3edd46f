"""The command as the system runs it: a process of its own, with pipes, colors and a hurried reader."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.commands.conftest import SLIP, Command

ESCAPE = "\x1b["


def process(*arguments: str, stdin: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "recipelang", *arguments], input=stdin, capture_output=True, text=True, encoding="utf-8",
        env={**os.environ, **environment}, check=False,
    )  # fmt: skip


def test_exit_codes_and_streams_of_a_real_process(library: Path) -> None:
    clean = process("check")
    assert (clean.returncode, clean.stderr) == (0, "")
    slip = process("check", "--stdin-path", "new.recipe", stdin=SLIP)
    assert slip.returncode == 1
    assert "claim-too-high" in slip.stdout
    nonsense = process("evaluate", "nothing of the kind")
    assert (nonsense.returncode, nonsense.stdout) == (2, "")
    assert nonsense.stderr.startswith("recipelang: no recipe or variation is called")


def test_piped_output_has_no_color(library: Path) -> None:
    assert ESCAPE not in process("check", "--stdin-path", "new.recipe", stdin=SLIP, TERM="xterm-256color").stdout
    assert ESCAPE not in process("evaluate", "--all", TERM="xterm-256color").stdout


def test_output_is_utf_8_whatever_the_system_prefers(library: Path) -> None:
    """A recipe named `jalapeño crisp` is printed under the C locale too, and never gives a traceback."""
    text = SLIP.replace("small pear cup", "jalapeño crisp ½")
    done = process("check", "--stdin-path", "new.recipe", "--format", "json", stdin=text, LC_ALL="C", PYTHONUTF8="0")
    assert "Traceback" not in done.stderr
    assert "jalapeño" in done.stdout


def test_a_reader_that_goes_away_is_no_error(library: Path) -> None:
    (library / "long.recipe").write_text("food x\n" + "    nonsense\n" * 4000, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, "-m", "recipelang", "check"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()
        running.stdout.close()
        assert b"Traceback" not in running.stderr.read()


def test_a_reader_that_goes_away_is_no_fault_of_the_files(library: Path) -> None:
    """`format --check | head`: no file is said to be unwritable because nobody reads on."""
    for number in range(20):
        (library / f"loose{number}.recipe").write_text("food x\n" + "  tcs\n" * 4000, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, "-m", "recipelang", "format", "--check"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.readline()
        running.stdout.close()
        assert b"can't be" not in running.stderr.read()


ARGUMENTS = [["check", "slip.recipe"], ["evaluate", "salted pears"]]


@pytest.mark.parametrize("arguments", ARGUMENTS, ids=["findings", "figures"])
def test_a_terminal_gets_color_and_the_same_words(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    (library / "slip.recipe").write_text(SLIP, encoding="utf-8")
    monkeypatch.delenv("NO_COLOR", raising=False)
    plain, colored = command(*arguments), command(*arguments, terminal=True)
    assert ESCAPE not in plain.out
    assert ESCAPE in colored.out
    assert re.sub(r"\x1b\[[\d;]*m", "", colored.out) == plain.out
    assert colored.code == plain.code


@pytest.mark.parametrize("arguments", ARGUMENTS, ids=["findings", "figures"])
def test_no_color_is_respected(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    (library / "slip.recipe").write_text(SLIP, encoding="utf-8")
    monkeypatch.setenv("NO_COLOR", "1")
    assert ESCAPE not in command(*arguments, terminal=True).out


def test_version_and_help(library: Path) -> None:
    assert process("--version").stdout.startswith("recipelang ")
    shown = process("--help").stdout
    for name in ("check", "evaluate", "trace", "explain"):
        assert name in shown
