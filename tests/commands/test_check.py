"""`recipelang check`, end to end: exit codes, what is printed, and the JSON that other programs read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from recipelang.rules.catalogue import page
from tests.commands.conftest import FOODS, SLIP, WARNED, Command
from tests.commands.shapes import misfits


def added(library: Path, text: str, name: str = "recipes/added.recipe") -> Path:
    path = library / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def findings(out: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(out)["findings"]
    return found


def rules(out: str) -> list[str]:
    return [one["rule"] for one in findings(out)]


# ---- exit codes ------------------------------------------------------------------------------------------------------


def test_a_clean_library_is_0(library: Path, command: Command) -> None:
    done = command("check")
    assert done == (0, "nothing found in 2 files (8 declarations), rules of school year 2026-27\n", "")


def test_an_error_is_1(library: Path, command: Command) -> None:
    added(library, SLIP)
    assert command("check").code == 1


def test_a_warning_is_0_and_with_strict_1(library: Path, command: Command) -> None:
    added(library, WARNED)
    done = command("check")
    assert done.code == 0
    assert "1 warning in 3 files" in done.out
    assert command("check", "--strict").code == 1


def test_a_hint_is_never_more_than_0(library: Path, command: Command) -> None:
    added(
        library,
        "recipe bowl of pears\n    makes 48 portions of 1/2 cup\n    credits 1/4 cup fruit\n    ingredients\n        6 qt diced pears\n",
    )
    done = command("check", "--strict", "--format", "json")
    assert (done.code, rules(done.out)) == (0, ["claim-too-low"])


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["check", "no-such.recipe"], "there is no file or folder no-such.recipe"),
        (["check", "--format", "yaml"], "invalid choice"),
        (["check", "--school-year", "2026"], "is not a school year; write it like 2026-27"),
        (["check", "--school-year", "2026-28"], "is not a school year"),
        (["check", "--frobnicate"], "unrecognized arguments"),
        (["cook"], "invalid choice"),
        ([], "required"),
    ],
)
def test_what_cannot_be_done_is_2_and_one_line_says_why(
    library: Path, command: Command, arguments: list[str], words: str
) -> None:
    done = command(*arguments)
    assert (done.code, done.out) == (2, "")
    assert words in done.err
    assert done.err.startswith("recipelang: ")
    assert done.err.count("\n") == 1


def test_findings_go_to_standard_output_and_nothing_else_does(library: Path, command: Command) -> None:
    added(library, SLIP)
    done = command("check")
    assert "claim-too-high" in done.out
    assert done.err == ""


# ---- which files -----------------------------------------------------------------------------------------------------


def test_findings_are_told_for_the_paths_asked_for(library: Path, command: Command) -> None:
    """The whole library is read, or no name would be known; findings of other files are theirs to ask for."""
    added(library, SLIP)
    assert command("check", "recipes/cups.recipe").code == 0
    assert command("check", "recipes").code == 1
    assert command("check", "foods.recipe", "recipes/added.recipe").code == 1


def test_an_excluded_file_is_checked_alone_when_it_is_named(library: Path, command: Command) -> None:
    """Drafts may hold anything; named on the command line, one is checked with the library's names visible."""
    added(library, SLIP, "drafts/try.recipe")
    assert command("check").code == 0
    done = command("check", "drafts/try.recipe", "--format", "json")
    assert (done.code, rules(done.out)) == (1, ["claim-too-high"])
    assert findings(done.out)[0]["path"] == "drafts/try.recipe"
    assert command("check", "drafts").code == 1


def test_an_excluded_file_may_declare_what_the_library_declares(library: Path, command: Command) -> None:
    """A draft of a new pear ricotta cup is no duplicate of the one in use."""
    text = "recipe pear ricotta cup\n    makes 48 portions of 1/2 cup\n    ingredients\n        6 qt diced pears\n"
    added(library, text, "drafts/try.recipe")
    assert command("check", "drafts/try.recipe").code == 0


def test_without_a_configuration_exactly_the_paths_are_read(tmp_path: Path, command: Command) -> None:
    (tmp_path / "foods.recipe").write_text(FOODS, encoding="utf-8")
    (tmp_path / "slip.recipe").write_text(SLIP, encoding="utf-8")
    alone = command("check", tmp_path / "slip.recipe", "--format", "json", "--no-cache")
    assert "unknown-name" in rules(alone.out)
    both = command("check", tmp_path / "slip.recipe", tmp_path / "foods.recipe", "--format", "json", "--no-cache")
    assert rules(both.out) == ["claim-too-high"]
    folder = command("check", tmp_path, "--format", "json", "--no-cache")
    assert rules(folder.out) == ["claim-too-high"]


def test_an_empty_folder_is_clean(tmp_path: Path, command: Command) -> None:
    assert command("check", tmp_path, "--no-cache") == (0, "nothing found in 0 files (0 declarations)\n", "")


def test_include_folders_give_names_and_no_findings(library: Path, command: Command) -> None:
    county = library.parent / "county"
    county.mkdir()
    (county / "more.recipe").write_text(SLIP.replace("small pear cup", "county pear cup"), encoding="utf-8")
    config = (library / "recipelang.toml").read_text(encoding="utf-8")
    (library / "recipelang.toml").write_text(config + 'include = ["../county"]\n', encoding="utf-8")
    added(
        library,
        "recipe tray\n    makes 24 portions\n    ingredients\n        24 portions county pear cup\n    steps\n        - Set out [county pear cup].\n",
    )
    assert command("check").code == 0


# ---- standard input --------------------------------------------------------------------------------------------------


def test_standard_input_stands_in_for_a_file(library: Path, command: Command) -> None:
    """An editor checks what is on the screen, not what was last saved."""
    done = command("check", "--stdin-path", "recipes/added.recipe", "--format", "json", stdin=SLIP.encode())
    assert done.code == 1
    assert [(one["rule"], one["path"]) for one in findings(done.out)] == [("claim-too-high", "recipes/added.recipe")]
    assert not (library / "recipes/added.recipe").exists()


def test_standard_input_hides_the_file_on_disk(library: Path, command: Command) -> None:
    added(library, SLIP)
    fixed = SLIP.replace("5 qt", "6 qt")
    assert command("check", "--stdin-path", "recipes/added.recipe", stdin=fixed.encode()).code == 0
    assert command("check").code == 1, "nothing of it was remembered"


def test_standard_input_that_is_no_text_is_2(library: Path, command: Command) -> None:
    done = command("check", "--stdin-path", "recipes/added.recipe", stdin=b"\xff\xfe\x00")
    assert done.code == 2
    assert "standard input can't be read" in done.err


# ---- configuration ---------------------------------------------------------------------------------------------------

BAD_CONFIGS = [
    ("[library\n", 1, "can't be read"),
    ("[library]\nschool-year = 2026\n", 2, "must be a text in quotes"),
    ("[library]\nschool-year = '2026-28'\n", 2, "is not a school year"),
    ("[library]\nexclude = 'drafts'\n", 2, "must be a list of folders"),
    ("[library]\nnaem = 'x'\n", 2, "means nothing under `[library]`"),
    ("[kitchen]\nname = 'x'\n", 1, "is not a section"),
    ("[rules]\nclaim-to-high = 'off'\n", 2, "no rule is called `claim-to-high`"),
    ("[rules]\nmissing-price = 'silent'\n", 2, "is not a severity"),
    ("[rules]\nallergen-claim-broken = 'off'\n", 2, "stays an error"),
    ("[rules]\nsyntax = 'hint'\n", 2, "stays an error"),
    ("[tolerances]\nyield = 'a lot'\n", 2, "is not a share"),
]


@pytest.mark.parametrize(
    ("config", "line", "words"), BAD_CONFIGS, ids=[config.split("\n")[-2] for config, _, _ in BAD_CONFIGS]
)
def test_a_broken_configuration_is_a_finding_and_the_work_goes_on(
    library: Path, command: Command, config: str, line: int, words: str
) -> None:
    (library / "recipelang.toml").write_text(config, encoding="utf-8")
    added(library, SLIP)
    done = command("check", "--format", "json")
    assert done.code == 1
    assert rules(done.out).count("claim-too-high") == 1, "the default stands in, and the rest is still checked"
    (bad,) = (one for one in findings(done.out) if one["rule"] == "bad-config")
    assert words in bad["message"]
    assert (bad["path"], bad["range"]["start"]["line"]) == ("recipelang.toml", line)


def test_the_page_on_bad_configurations_holds(library: Path, command: Command) -> None:
    found = page("bad-config")
    assert found is not None
    for section, expected in (("Breaks", ["bad-config"]), ("Fixed", [])):
        (library / "recipelang.toml").write_text(found.section(section), encoding="utf-8")
        assert rules(command("check", "--format", "json").out) == expected


def test_a_rule_is_softened_or_switched_off_by_the_configuration(library: Path, command: Command) -> None:
    added(library, SLIP)
    config = (library / "recipelang.toml").read_text(encoding="utf-8")
    for severity, code in (("off", 0), ("hint", 0), ("warning", 0), ("error", 1)):
        (library / "recipelang.toml").write_text(
            f'{config}\n[rules]\nclaim-too-high = "{severity}"\n', encoding="utf-8"
        )
        done = command("check", "--format", "json")
        assert done.code == code
        assert [one["severity"] for one in findings(done.out)] == ([] if severity == "off" else [severity])


def test_the_school_year_of_the_command_line_goes_before_the_librarys(library: Path, command: Command) -> None:
    assert "school year 2027-28" in command("check", "--school-year", "2027-28").out


# ---- files that can't be read ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("data", "words"),
    [(b"recipe \xff\n", "not UTF-8"), ("recipe x".encode("utf-16"), "UTF-16"), (b"recipe\0", "not a text file")],
)
def test_an_unreadable_file_is_a_finding_and_the_others_are_checked(
    library: Path, command: Command, data: bytes, words: str
) -> None:
    (library / "recipes" / "word.recipe").write_bytes(data)
    added(library, SLIP)
    done = command("check", "--format", "json")
    assert done.code == 1
    assert sorted(rules(done.out)) == ["claim-too-high", "unreadable-file"]
    (bad,) = (one for one in findings(done.out) if one["rule"] == "unreadable-file")
    assert words in bad["message"]
    assert bad["path"] == "recipes/word.recipe"


def test_too_many_findings_are_cut_and_it_is_said(library: Path, command: Command) -> None:
    added(library, "food x\n" + "    nonsense\n" * 6000)
    done = command("check", "--format", "json", "--no-cache")
    assert len(findings(done.out)) == 5001
    last = findings(done.out)[-1]
    assert (last["rule"], last["severity"]) == ("too-many-findings", "error")
    assert "more findings are left out" in last["message"]


# ---- text ------------------------------------------------------------------------------------------------------------

SCREEN = """recipes/added.recipe:3:19  error  claim-too-high
    3 |     credits       1/2 cup fruit
      |                   ^^^^^^^^^^^^^
The recipe claims 1/2 cup of fruit, but a portion credits only 3/8 cup.
  claimed   1/2 cup
  credits   3/8 cup    0.4167 cup, rounded down to the nearest 1/8 cup
  from      5 qt diced pears, 1/4 cup per 1/4 cup as served: 20 cups
  rule      7 CFR 210.10(c); summed exactly, rounded down once per portion
  fix       claim 3/8 cup, or use 6 qt of diced pears
"""


def test_a_finding_reads_like_this(library: Path, command: Command) -> None:
    """What is wrong, the figures, where they come from, whose rule, how to fix: each in its own line."""
    added(library, SLIP)
    shown = command("check").out
    assert shown == SCREEN + "\n1 error in 3 files (9 declarations), rules of school year 2026-27\n"


# ---- JSON ------------------------------------------------------------------------------------------------------------

POSITION = {"line": int, "column": int}
RANGE = {"start": POSITION, "end": POSITION}
DOCUMENT = {
    "version": int,
    "findings": [
        {
            "rule": str, "severity": ("error", "warning", "hint"), "path": str, "range": RANGE, "declaration": str,
            "message": str, "figures": {"*": str}, "source": str,
            "related": [{"path": str, "range": RANGE, "message": str}],
            "fixes": [{"title": str, "edits": [{"path": str, "range": RANGE, "text": str}]}],
        }
    ],
    "summary": {"error": int, "warning": int, "hint": int, "files": int},
}  # fmt: skip

TROUBLE = (
    SLIP
    + WARNED
    + """
food twice named
    weihgs 240 g per cup
food twice named
    contains milk
recipe cup of slicd pears
    makes 10 portions of 1/2 cup
    made without milk
    ingredients
        5 cups diced paers
        1 lb whipped ricotta
"""
)


def test_the_json_has_the_shape_that_programs_rely_on(library: Path, command: Command) -> None:
    added(library, TROUBLE)
    document = json.loads(command("check", "--format", "json").out)
    assert misfits(document, DOCUMENT) == []
    assert document["version"] == 2
    assert any(one["related"] for one in document["findings"])
    assert any(one["fixes"] for one in document["findings"])


def test_the_summary_counts_what_is_listed(library: Path, command: Command) -> None:
    added(library, TROUBLE)
    document = json.loads(command("check", "--format", "json").out)
    for severity in ("error", "warning", "hint"):
        listed = sum(one["severity"] == severity for one in document["findings"])
        assert document["summary"][severity] == listed
    assert document["summary"]["files"] == 3


def test_places_count_from_1_in_code_points_and_ends_are_exclusive(library: Path, command: Command) -> None:
    """A tab is one column, and so is a letter outside the first plane."""
    added(library, SLIP.replace("    credits       1/2", "\tcredits\t1/2").replace("small pear cup", "𝒮mall pear cup"))
    (one,) = findings(command("check", "--format", "json").out)
    assert one["range"] == {"start": {"line": 3, "column": 10}, "end": {"line": 3, "column": 23}}
    assert one["declaration"] == "𝒮mall pear cup"


def test_figures_name_what_was_found_and_what_was_needed(library: Path, command: Command) -> None:
    added(library, SLIP)
    (one,) = findings(command("check", "--format", "json").out)
    assert one["figures"]["needed"] == "1/2 cup"
    assert one["figures"]["found"] == "3/8 cup"
    assert one["source"].startswith("7 CFR 210.10(c)")


def test_findings_are_sorted_by_path_and_place(library: Path, command: Command) -> None:
    added(library, TROUBLE)
    added(library, SLIP.replace("small", "other"), "a.recipe")
    found = findings(command("check", "--format", "json").out)
    keys = [(one["path"], one["range"]["start"]["line"], one["range"]["start"]["column"]) for one in found]
    assert keys == sorted(keys)


def test_paths_are_relative_to_the_library_from_any_folder(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    added(library, SLIP)
    monkeypatch.chdir(library / "recipes")
    assert [one["path"] for one in findings(command("check", "--format", "json").out)] == ["recipes/added.recipe"]


def test_each_fix_clears_its_finding(library: Path, command: Command) -> None:
    """What a program applies from the JSON must do what its title says."""
    path = added(library, SLIP)
    (one,) = findings(command("check", "--format", "json").out)
    assert one["fixes"]
    for fix in one["fixes"]:
        lines = SLIP.split("\n")
        for edit in fix["edits"]:
            assert edit["path"] == "recipes/added.recipe"
            start, end = edit["range"]["start"], edit["range"]["end"]
            assert start["line"] == end["line"]
            line = lines[start["line"] - 1]
            lines[start["line"] - 1] = line[: start["column"] - 1] + edit["text"] + line[end["column"] - 1 :]
        path.write_text("\n".join(lines), encoding="utf-8")
        assert "claim-too-high" not in rules(command("check", "--format", "json").out), fix["title"]


def test_a_second_check_says_the_same_as_the_first(library: Path, command: Command) -> None:
    """What is remembered between runs shows in time only; an edit, a new name and a deletion are all seen."""
    path = added(library, TROUBLE)
    first = command("check", "--format", "json")
    assert command("check", "--format", "json") == first
    assert command("check", "--format", "json", "--no-cache") == first
    path.write_text(TROUBLE.replace("paers", "pears"), encoding="utf-8")
    assert command("check", "--format", "json") == command("check", "--format", "json", "--no-cache")
    path.unlink()
    assert command("check").code == 0
