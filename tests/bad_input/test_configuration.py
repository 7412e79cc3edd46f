"""A configuration that can't be used: a finding at its line, defaults in its place, and the work goes on."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands.conftest import SLIP, Command

BROKEN: dict[str, bytes] = {
    "no TOML": b"[library\nname = 1",
    "words": b"the kitchen of the harbor",
    "bytes": b"\xff\xfe\0\0",
    "NUL": b"[library]\0",
    "a key twice": b"[rules]\nsyntax = 'off'\nsyntax = 'off'\n",
    "an unknown section": b"[kitchen]\n",
    "a value for a section": b"library = 3\n",
    "a list for a section": b"[[library]]\n",
    "an unknown key": b"[library]\nnmae = 'x'\n",
    "an unknown rule": b"[rules]\nclaim-to-high = 'off'\n",
    "no severity": b"[rules]\nclaim-too-high = 'never'\n",
    "a number for a severity": b"[rules]\nclaim-too-high = 0\n",
    "a list for a severity": b"[rules]\nclaim-too-high = ['off']\n",
    "no school year": b"[library]\nschool-year = '2026'\n",
    "a year that skips one": b"[library]\nschool-year = '2026-28'\n",
    "a date for a year": b"[library]\nschool-year = 2026-07-01\n",
    "a text for folders": b"[library]\nexclude = 'broken'\n",
    "numbers for folders": b"[library]\ninclude = [1]\n",
    "a folder that is not there": b"[library]\ninclude = ['nowhere']\n",
    "a folder that can't be": b'[library]\ninclude = ["a\\u0000b"]\n',
    "nothing for a folder": b"[library]\nexclude = [[]]\n",
    "no share": b"[tolerances]\nyield = 'much'\n",
    "more than all": b"[tolerances]\nyield = '100%'\n",
    "less than nothing": b"[tolerances]\nyield = '-5%'\n",
    "a bare number": b"[tolerances]\nyield = 5\n",
    "no unit": b"[units]\nbowl = 'twelve'\n",
    "a unit of nothing": b"[units]\nbowl = '0 fl oz'\n",
    "a unit of itself": b"[units]\nbowl = '2 bowl'\n",
    "a unit that is another": b"[units]\ncup = '12 fl oz'\n",
    "a number for a unit": b"[units]\nbowl = 12\n",
    "a looser temperature": b"[safety]\nhot-hold = '120 F'\n",
    "no temperature": b"[safety]\nhot-hold = 'hot'\n",
    "an unknown edition": b"[safety]\nfood-code = '1066'\n",
    "brackets without end": b"x = " + b"[" * 5000,
}


@pytest.mark.parametrize("what", BROKEN)
def test_it_is_a_finding_and_the_work_goes_on(library: Path, command: Command, what: str) -> None:
    (library / "recipelang.toml").write_bytes(BROKEN[what])
    (library / "slip.recipe").write_text(SLIP, encoding="utf-8")
    done = command("check", "--no-cache")
    assert done.code == 1
    assert done.err == ""
    assert done.out.count("bad-config") == 1
    assert "recipelang.toml:" in done.out
    assert "claim-too-high" in done.out


@pytest.mark.parametrize("what", BROKEN)
def test_figures_are_computed_all_the_same(library: Path, command: Command, what: str) -> None:
    (library / "recipelang.toml").write_bytes(BROKEN[what])
    assert command("evaluate", "--all").code == 0
    assert command("trace", "pear ricotta cup", "credits fruit").code == 0


def test_a_configuration_that_is_a_folder_is_none(library: Path, command: Command) -> None:
    (library / "recipelang.toml").unlink()
    (library / "recipelang.toml").mkdir()
    assert command("check", ".").code == 0
