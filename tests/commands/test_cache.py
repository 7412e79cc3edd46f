"""What is kept between runs changes how long a check takes, and nothing that it says."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.project import ROOT
from tests.commands.conftest import Command

SUFFIXES = {".json", ".store", ".state"}
"""Of what is kept. A file that is still being written has another."""
BROKEN = sorted(path.name for path in (ROOT / "examples" / "broken").glob("*.recipe"))


@pytest.fixture
def examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The example library, a copy, and an empty cache."""
    folder = tmp_path / "examples"
    shutil.copytree(ROOT / "examples", folder)
    monkeypatch.setenv("RECIPELANG_CACHE", str(tmp_path / "cache"))
    monkeypatch.chdir(folder)
    return folder


def kept(examples: Path) -> list[Path]:
    return sorted(path for path in (examples.parent / "cache").rglob("*") if path.is_file())


def test_warm_is_cold_over_every_broken_example(examples: Path, command: Command) -> None:
    """Byte for byte, as text and as JSON, all files at once and one at a time after that."""
    paths = [f"broken/{name}" for name in BROKEN]
    for form in ("text", "json"):
        cold = command("check", *paths, "--format", form, "--no-cache")
        filling = command("check", *paths, "--format", form)
        warm = command("check", *paths, "--format", form)
        assert cold == filling == warm
    for path in paths[::8]:
        assert command("check", path) == command("check", path, "--no-cache")


def test_every_damage_is_passed_over(examples: Path, command: Command) -> None:
    cold = command("check", "broken/claim-too-high.recipe")
    files = kept(examples)
    assert files
    for damage in (b"", b"\x00", b"{}", b"[1, 2]", b"\x80\x05N."):
        for path in files:
            path.write_bytes(damage)
        assert command("check", "broken/claim-too-high.recipe") == cold
    for path in files:
        whole = path.read_bytes()
        path.write_bytes(whole[: len(whole) // 2])
    assert command("check", "broken/claim-too-high.recipe") == cold


def test_another_year_or_setting_is_another_answer(examples: Path, command: Command) -> None:
    here = "broken/claim-too-high.recipe"
    command("check", here)
    later = command("check", here, "--school-year", "2027-28")
    assert later == command("check", here, "--school-year", "2027-28", "--no-cache")
    config = examples / "recipelang.toml"
    config.write_text(
        config.read_text(encoding="utf-8").replace("[rules]\n", '[rules]\nclaim-too-high = "warning"\n'),
        encoding="utf-8",
    )
    softened = command("check", here)
    assert softened == command("check", here, "--no-cache")
    assert "warning  claim-too-high" in softened.out


def test_a_cache_that_cant_be_written_is_done_without(examples: Path, command: Command) -> None:
    cold = command("check", "broken/claim-too-high.recipe", "--no-cache")
    (examples.parent / "cache").write_text("in the way", encoding="utf-8")
    assert command("check", "broken/claim-too-high.recipe") == cold


def test_several_checks_at_once_share_one_cache_folder(examples: Path, command: Command) -> None:
    """As a build server starts them, an editor and a hook besides: from nothing kept, and again after an edit."""
    paths = ["broken/claim-too-high.recipe", "broken/unknown-name.recipe", "recipes"]
    for _ in range(2):
        cold = command("check", *paths, "--no-cache")
        running = [
            subprocess.Popen(
                [sys.executable, "-m", "recipelang", "check", *paths], stdout=subprocess.PIPE, stderr=subprocess.PIPE
            )
            for _ in range(6)
        ]
        for one in running:
            out, err = one.communicate(timeout=120)
            assert (out.decode(), err.decode(), one.returncode) == (cold.out, cold.err, cold.code)
        assert command("check", *paths) == cold
        assert [path.name for path in kept(examples) if path.suffix not in SUFFIXES] == []
        broken = examples / "broken/claim-too-high.recipe"
        broken.write_text(broken.read_text(encoding="utf-8") + "\nfood no such\n    contains mikl\n", encoding="utf-8")


def test_what_is_kept_belongs_to_the_contents_of_the_tool_and_not_to_its_times(tmp_path: Path) -> None:
    """A build server installs the tool anew each time and restores what was kept: it must count."""
    state = "from recipelang.workspace.fingerprint import fingerprint; print(fingerprint().hex())"
    found: list[str] = []
    for number, place in enumerate(("one", "two", "three")):
        site = tmp_path / place
        shutil.copytree(ROOT / "recipelang", site / "recipelang", ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copytree(ROOT / "grammar", site / "recipelang" / "grammar")
        for path in site.rglob("*"):
            os.utime(path, (1_600_000_000 + number, 1_600_000_000 + number))
        if place == "three":
            food = site / "recipelang" / "pantry" / sorted((ROOT / "recipelang" / "pantry").glob("*.recipe"))[0].name
            food.write_text(food.read_text(encoding="utf-8").replace("1", "2", 1), encoding="utf-8")
        environment = {**os.environ, "PYTHONPATH": str(site), "RECIPELANG_CACHE": str(tmp_path / "cache")}
        for _ in range(2):  # worked out, then as it was kept
            done = subprocess.run(
                [sys.executable, "-S", "-c", state],
                env=environment,
                cwd=site,
                capture_output=True,
                text=True,
                check=True,
            )
            found.append(done.stdout)
    assert found[0] == found[1] == found[2] == found[3]
    assert found[4] == found[5] != found[0]
