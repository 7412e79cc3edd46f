"""`check --baseline` and `--write-baseline`: a library with old faults can start, and no new one slips in behind them."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from recipelang.rules.catalogue import rules
from recipelang.text.writing import write_whole
from recipelang.workspace.baseline import baseline_of, baseline_text, hide, may_hold
from recipelang.workspace.report import Result
from tests.commands.conftest import SLIP, Command
from tests.output.results import told

PROMISE = """recipe pear cup without soy
    makes         48 portions of 1/2 cup
    made without  soy
    process       no cook
    ingredients
        6 qt              diced pears
    steps
        - Fill [diced pears] into cups.
            ccp  hold cold at 41 F or below up to 24 h
"""
"""The pears may contain soy: `allergen-claim-broken`."""


@pytest.fixture
def slipped(library: Path) -> Path:
    """The library with an old fault."""
    (library / "new.recipe").write_text(SLIP, encoding="utf-8")
    return library


def written(command: Command) -> dict[str, object]:
    done = command("check", "--write-baseline", "old.json")
    assert done.code == 0, done.out + done.err
    document: dict[str, object] = json.loads(Path("old.json").read_text(encoding="utf-8"))
    return document


def test_old_faults_are_hidden_and_counted(slipped: Path, command: Command) -> None:
    assert command("check").code == 1
    written(command)
    done = command("check", "--baseline", "old.json")
    assert done.code == 0
    assert "claim-too-high" not in done.out
    assert "1 hidden by old.json" in done.out
    assert command("check", "--baseline", "old.json", "--strict").code == 0


def test_the_file_names_rule_declaration_and_figures(slipped: Path, command: Command) -> None:
    (entry,) = written(command)["findings"]  # type: ignore[misc]
    assert entry == {
        "rule": "claim-too-high",
        "declaration": "small pear cup",
        "figures": {"found": "3/8 cup", "needed": "1/2 cup"},
        "count": 1,
    }


def test_lines_and_files_may_move(slipped: Path, command: Command) -> None:
    written(command)
    (slipped / "new.recipe").unlink()
    (slipped / "recipes" / "moved.recipe").write_text("// moved\n\n" + SLIP, encoding="utf-8")
    assert command("check", "--baseline", "old.json").code == 0


def test_another_figure_is_a_new_fault(slipped: Path, command: Command) -> None:
    written(command)
    (slipped / "new.recipe").write_text(SLIP.replace("1/2 cup fruit", "5/8 cup fruit"), encoding="utf-8")
    done = command("check", "--baseline", "old.json")
    assert done.code == 1
    assert "claim-too-high" in done.out
    assert "1 entry of old.json matches nothing any more" in done.out


def test_one_more_of_the_same_is_a_new_fault() -> None:
    """Two alike are in the baseline; a third is not."""
    two = Result((told(line=1), told(line=2)), 1, 1, "")
    three = two._replace(told=(*two.told, told(line=3)))
    baseline = baseline_of(two)
    assert hide(two, baseline, "old.json").told == ()
    assert len(hide(three, baseline, "old.json").told) == 1


def test_without_figures_the_underlined_text_tells_findings_apart(library: Path, command: Command) -> None:
    text = SLIP.replace("5 qt              diced pears", "6 qt diced pears\n        1 cup zork")
    (library / "new.recipe").write_text(text, encoding="utf-8")
    written(command)
    assert command("check", "--baseline", "old.json").code == 0
    (library / "new.recipe").write_text(text.replace("zork", "blurb"), encoding="utf-8")
    assert command("check", "--baseline", "old.json").code == 1


def test_what_is_mended_is_reported_until_it_is_taken_out(slipped: Path, command: Command) -> None:
    written(command)
    (slipped / "new.recipe").unlink()
    done = command("check", "--baseline", "old.json")
    assert done.code == 0
    assert "1 entry of old.json matches nothing any more" in done.out
    assert "claim-too-high in small pear cup (found 3/8 cup, needed 1/2 cup)" in done.out
    shrunk = command("check", "--baseline", "old.json", "--write-baseline", "old.json")
    assert "matches nothing" not in shrunk.out
    assert json.loads(Path("old.json").read_text(encoding="utf-8"))["findings"] == []


def test_writing_with_a_baseline_never_lets_it_grow(slipped: Path, command: Command) -> None:
    written(command)
    (slipped / "more.recipe").write_text(SLIP.replace("small pear cup", "tiny pear cup"), encoding="utf-8")
    done = command("check", "--baseline", "old.json", "--write-baseline", "old.json")
    assert done.code == 1
    assert done.out.startswith("more.recipe:3:19  error  claim-too-high")
    assert "new.recipe" not in done.out
    assert "tiny" not in Path("old.json").read_text(encoding="utf-8")


def test_a_check_of_one_file_says_nothing_of_entries_elsewhere(slipped: Path, command: Command) -> None:
    written(command)
    done = command("check", "foods.recipe", "--baseline", "old.json")
    assert "matches nothing" not in done.out
    (slipped / "new.recipe").write_text(SLIP.replace("1/2 cup fruit", "3/8 cup fruit"), encoding="utf-8")
    assert "1 entry of old.json matches nothing" in command("check", "new.recipe", "--baseline", "old.json").out


# ---- what no baseline hides ------------------------------------------------------------------------------------------


def test_a_broken_allergen_promise_can_not_be_put_in(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(PROMISE, encoding="utf-8")
    done = command("check", "--write-baseline", "old.json")
    assert done.code == 1
    assert "allergen-claim-broken" in done.out
    assert "can't be put in a baseline" in done.err
    assert "allergen" not in Path("old.json").read_text(encoding="utf-8")


def test_nor_can_it_be_written_in_by_hand(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(PROMISE, encoding="utf-8")
    entries = [
        {"rule": "allergen-claim-broken", "declaration": "pear cup without soy", "text": "soy", "count": 9},
    ]
    Path("old.json").write_text(json.dumps({"version": 1, "findings": entries}), encoding="utf-8")
    done = command("check", "--baseline", "old.json")
    assert done.code == 1
    assert "allergen-claim-broken" in done.out
    assert "1 entry of old.json hides nothing, because no baseline may hold it" in done.out


@pytest.mark.parametrize("rule", sorted(name for name, one in rules().items() if one.hard))
def test_no_hard_rule_is_ever_hidden(rule: str) -> None:
    """Whatever severity a hard finding has: allowed with a reason it is a hint, and stays in every report."""
    for severity in ("error", "warning", "hint"):
        one = told(rule, severity)
        assert not may_hold(one)
        result = Result((one,), 1, 1, "")
        assert baseline_of(result) == {}
        assert hide(result, {**baseline_of(result)}, "old.json").told == (one,)


def test_a_file_that_can_not_be_read_is_never_hidden(library: Path, command: Command) -> None:
    (library / "new.recipe").write_bytes(b"\xff\xfe\x00")
    done = command("check", "--write-baseline", "old.json")
    assert done.code == 1
    assert "unreadable-file" in done.out


# ---- the file --------------------------------------------------------------------------------------------------------


def test_the_file_is_the_same_whatever_order_findings_come_in() -> None:
    many = [told(declaration=name, line=line) for line, name in enumerate("cab", 1)]
    one, other = (baseline_text(baseline_of(Result(tuple(order), 1, 1, ""))) for order in (many, many[::-1]))
    assert one == other
    assert [entry["declaration"] for entry in json.loads(one)["findings"]] == ["a", "b", "c"]


def test_it_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "old.json"
    path.write_text("as it was", encoding="utf-8")
    path.chmod(0o640)

    def fails(*_: object) -> None:
        raise OSError("no room")

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", fails)
        with pytest.raises(OSError, match="no room"):
            write_whole(path, "new")
    assert [one.name for one in tmp_path.iterdir()] == ["old.json"]
    assert path.read_text(encoding="utf-8") == "as it was"
    write_whole(path, "new")
    assert path.read_text(encoding="utf-8") == "new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_a_link_keeps_pointing(tmp_path: Path) -> None:
    (tmp_path / "kept.json").write_text("old", encoding="utf-8")
    (tmp_path / "link.json").symlink_to("kept.json")
    write_whole(tmp_path / "link.json", "new")
    assert (tmp_path / "link.json").is_symlink()
    assert (tmp_path / "kept.json").read_text(encoding="utf-8") == "new"


def test_only_a_whole_library_can_be_written_down(slipped: Path, command: Command) -> None:
    done = command("check", "new.recipe", "--write-baseline", "old.json")
    assert done.code == 2
    assert "whole library" in done.err
    assert not Path("old.json").exists()


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("{", "line 1 is not JSON"),
        ("[]", "has no list of findings"),
        ('{"version": 9, "findings": []}', "version 9"),
        ('{"version": 1, "findings": [3]}', "its finding 1 is no entry"),
        ('{"version": 1, "findings": [{"declaration": "a"}]}', "names no rule"),
        ('{"version": 1, "findings": [{"rule": "a", "declaration": "b", "count": true}]}', "count"),
        ('{"version": 1, "findings": [{"rule": "a", "declaration": "b", "figures": {"a": 1}}]}', "figures"),
        ("[" * 100_000, "nested too deep"),
    ],
)
def test_what_is_no_baseline_is_said_in_one_line(library: Path, command: Command, text: str, why: str) -> None:
    Path("old.json").write_text(text, encoding="utf-8")
    done = command("check", "--baseline", "old.json")
    assert (done.code, done.out) == (2, "")
    assert why in done.err
    assert done.err.count("\n") == 1


def test_a_missing_baseline_is_no_empty_one(library: Path, command: Command) -> None:
    done = command("check", "--baseline", "old.json")
    assert done.code == 2
    assert "`--write-baseline old.json` makes one" in done.err


def test_a_folder_that_can_not_be_written_is_said(library: Path, command: Command) -> None:
    done = command("check", "--write-baseline", "nowhere/old.json")
    assert done.code == 2
    assert "nowhere/old.json can't be written" in done.err


@pytest.mark.parametrize("form", ["json", "sarif", "github", "junit"])
def test_every_format_tells_what_is_hidden(slipped: Path, command: Command, form: str) -> None:
    written(command)
    (slipped / "new.recipe").unlink()
    done = command("check", "--baseline", "old.json", "--format", form)
    assert done.code == 0
    if form == "json":
        told = json.loads(done.out)["summary"]["baseline"]
        assert told["outdated"] == ["claim-too-high in small pear cup (found 3/8 cup, needed 1/2 cup)"]
    elif form == "sarif":
        assert json.loads(done.out)["runs"][0]["properties"]["hiddenByBaseline"] == 0
    else:
        assert "matches nothing any more" in done.out
