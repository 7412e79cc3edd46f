"""A small library on disk, and command lines run in it."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from recipelang.commands import run

CONFIG = """[library]
name = "Brindle Cove Schools, central kitchen"
school-year = "2026-27"
exclude = ["drafts"]
"""

FOODS = """container clear cup 12
    holds         12 fl oz
    headspace     1/2 fl oz
    price         0.10 each

food whipped ricotta
    pack          4 tubs of 5 lb
    price         40.00 per case
    label read    2026-08-01
    contains      milk
    arrives       ready to eat
    tcs
    weighs        240 g per cup
    credits       1 oz eq meat/meat alternate per 2 oz as served
    evidence      product formulation statement, 2026-03-01
    nutrition per 100 g
        calories  150
        sodium    100 mg

food diced pears
    price         1.50 per lb
    label read    2026-08-01
    contains      none of the nine
    may contain   soy
    arrives       ready to eat
    not tcs
    weighs        200 g per cup
    credits       1/4 cup fruit per 1/4 cup as served
    evidence      regulation
    nutrition per 100 g
        calories  60
        sodium    5 mg

food rye crisp
    price         0.20 each
    label read    2026-08-01
    contains      wheat
    arrives       dry
    not tcs
    each weighs   28 g
    credits       1 oz eq grain per each
    evidence      product formulation statement, 2026-03-01
    nutrition per each
        calories  100
        sodium    140 mg

food sea salt
    price         0.50 per lb
    label read    2026-08-01
    contains      none of the nine
    arrives       dry
    not tcs
    weighs        292 g per cup
"""

CUPS = """recipe pear ricotta cup
    makes         48 portions of 3/4 cup
    in            clear cup 12
    process       no cook
    credits       1 oz eq meat/meat alternate, 1/2 cup fruit, 1 oz eq grain
    keeps         72 h cold

    ingredients
        6 lb              whipped ricotta
        6 qt              diced pears
        48 each           rye crisp, on the side

    steps
        - Pipe [whipped ricotta] into the cups, spoon [diced pears] over it, and lid.
            ccp  hold cold at 41 F or below up to 72 h
        - Pack [rye crisp] beside it.

variation plain ricotta cup
    based on      pear ricotta cup
    leave out     rye crisp
    leave out     step 2
    change        credits 1 oz eq meat/meat alternate, 1/2 cup fruit

recipe salted pears
    makes         48 portions of 1/2 cup

    ingredients
        6 qt              diced pears
        1 tsp             sea salt

    steps
        - Toss [diced pears] with [sea salt].
"""

SLIP = """recipe small pear cup
    makes         48 portions of 1/2 cup
    credits       1/2 cup fruit
    ingredients
        5 qt              diced pears
"""
"""A claim of 1/2 cup on 20 cups for 48 portions: `claim-too-high`, an error and nothing else."""

WARNED = """recipe half pears
    makes         48 portions of 1/2 cup
    process       no cook
    ingredients
        4 qt              diced pears
"""
"""16 cups where the portions need 24: `yield-disagrees`, a warning and nothing worse."""


class Done(NamedTuple):
    """What a command line gave."""

    code: int
    out: str
    err: str


Command = Callable[..., Done]


@pytest.fixture
def library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clean library of two files, which is the current folder."""
    root = tmp_path / "library"
    (root / "recipes").mkdir(parents=True)
    (root / "recipelang.toml").write_text(CONFIG, encoding="utf-8")
    (root / "foods.recipe").write_text(FOODS, encoding="utf-8")
    (root / "recipes" / "cups.recipe").write_text(CUPS, encoding="utf-8")
    monkeypatch.chdir(root)
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    return root


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Command:
    """Runs a command line in this process, its output caught; `stdin` gives it standard input, and with `terminal` its
    output takes itself for a terminal with colors."""

    def one(*arguments: str | os.PathLike[str], stdin: bytes = b"", terminal: bool = False) -> Done:
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8"))
        monkeypatch.setenv("TERM", "xterm-256color")
        monkeypatch.setattr(sys.stdout, "isatty", lambda: terminal)
        capsys.readouterr()
        code = run([os.fspath(argument) for argument in arguments])
        caught = capsys.readouterr()
        return Done(code, caught.out, caught.err)

    return one
