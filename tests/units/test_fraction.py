"""Both types of fraction, Python's own and the compiled one, give the same findings and the same figures."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from math import ceil, floor
from operator import add, eq, floordiv, le, lt, mod, mul, neg, sub, truediv
from pathlib import Path
from typing import Any

import cfractions
import pytest
from hypothesis import given
from hypothesis import strategies as st

ROOT = Path(__file__).resolve().parents[2]
PROBE = """
import sys
if sys.argv[1] == "fractions":
    sys.modules["cfractions"] = None
from recipelang.units.fraction import Fraction
assert Fraction.__module__ == sys.argv[1], f"{sys.argv[1]} is not installed; pip install -e '.[test]' installs it"
from recipelang.commands import run
sys.exit(run(sys.argv[2:]))
"""


def printed(module: str, *arguments: str) -> tuple[int, str]:
    """What a command prints, computed with the fractions of a module."""
    environment = {**os.environ, "PYTHONHASHSEED": "1"}
    done = subprocess.run(
        [sys.executable, "-c", PROBE, module, *arguments],
        cwd=ROOT / "examples", env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert not done.stderr
    return done.returncode, done.stdout


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "--no-cache", "--format", "json", "."),
        ("check", "--no-cache", *(str(path) for path in sorted((ROOT / "examples" / "broken").glob("*.recipe")))),
        ("evaluate", "--all", "--format", "json"),
    ],
    ids=["the library", "what is broken", "figures"],
)
def test_both_fractions_say_the_same(arguments: tuple[str, ...]) -> None:
    code, text = printed("fractions", *arguments)
    assert text
    assert printed("cfractions", *arguments) == (code, text)


TEXTS = ["1", "-1", "1.5", ".5", "1e3", " 1/2 ", "1/0", "", "one", "1_0", "+3", "1/-2", "½"]
WITH_TWO = [add, sub, mul, truediv, floordiv, mod, divmod, lt, le, eq]
WITH_ONE = [str, repr, hash, floor, ceil, abs, neg, bool]
numbers = st.one_of(st.integers(), st.fractions())


def outcome(compute: Callable[..., Any], *values: Any) -> Any:
    """What a computation gives, as text and type, or what it raises."""
    try:
        value = compute(*values)
    except (ArithmeticError, ValueError) as error:
        return type(error)
    return str(value), "Fraction" in type(value).__name__


@given(st.fractions(), numbers)
def test_compiled_fractions_compute_like_pythons(first: Fraction, second: Fraction | int) -> None:
    pythons, compiled = first, cfractions.Fraction(first)
    other = cfractions.Fraction(second) if isinstance(second, Fraction) else second
    for compute in WITH_TWO:
        assert outcome(compute, pythons, second) == outcome(compute, compiled, other)
        assert outcome(compute, second, pythons) == outcome(compute, other, compiled)
    for compute in WITH_ONE:
        assert outcome(compute, pythons) == outcome(compute, compiled)


@pytest.mark.parametrize("text", TEXTS)
def test_compiled_fractions_read_like_pythons(text: str) -> None:
    assert outcome(Fraction, text) == outcome(cfractions.Fraction, text)


def test_reading_a_text_changes_nothing_else() -> None:
    """A compiled type that writes into the texts it reads has been on offer (see `recipelang/units/fraction.py`)."""
    for text in TEXTS:
        outcome(cfractions.Fraction, text)
    assert [list(bytes([number])) for number in range(256)] == [[number] for number in range(256)]
