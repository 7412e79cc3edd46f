"""`check --format junit`: a report that parses, a test case for each file, failed where the check fails."""

from __future__ import annotations

from pathlib import Path
from xml.etree.ElementTree import Element, fromstring

from hypothesis import given, settings

from recipelang.output.as_junit import junit
from recipelang.workspace.report import Result
from tests.commands.conftest import SLIP, WARNED, Command
from tests.output.results import ANY_RESULT, result_of, told


def parsed(text: str) -> Element:
    return fromstring(text.encode("utf-8"))


def cases(report: Element) -> dict[str, Element]:
    return {case.attrib["name"]: case for case in report.iter("testcase")}


def test_a_clean_library_passes_file_by_file(library: Path, command: Command) -> None:
    done = command("check", "--format", "junit")
    report = parsed(done.out)
    assert done.code == 0
    assert set(cases(report)) == {"foods.recipe", "recipes/cups.recipe"}
    assert (report.attrib["tests"], report.attrib["failures"]) == ("2", "0")
    assert report.find("testsuite/properties/property[@name='school-year']").attrib["value"] == "2026-27"  # type: ignore[union-attr]


def test_an_error_fails_its_file(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(SLIP, encoding="utf-8")
    report = parsed(command("check", "--format", "junit").out)
    failure = cases(report)["new.recipe"].find("failure")
    assert failure is not None
    assert failure.attrib["type"] == "claim-too-high"
    assert failure.attrib["message"].startswith("claim-too-high: The recipe claims 1/2 cup")
    assert "new.recipe:3:19  error  claim-too-high" in (failure.text or "")
    assert (report.attrib["tests"], report.attrib["failures"]) == ("3", "1")


def test_a_warning_is_told_and_fails_only_where_it_counts(library: Path, command: Command) -> None:
    (library / "new.recipe").write_text(WARNED, encoding="utf-8")
    case = cases(parsed(command("check", "--format", "junit").out))["new.recipe"]
    assert case.find("failure") is None
    assert "yield-disagrees" in (case.findtext("system-out") or "")
    strict = command("check", "--format", "junit", "--strict")
    assert strict.code == 1
    assert cases(parsed(strict.out))["new.recipe"].find("failure") is not None


def test_several_failures_are_counted() -> None:
    report = parsed(junit(Result((told(line=1), told("syntax", line=2)), 1, 1, "")))
    failure = cases(report)["cups.recipe"].find("failure")
    assert failure is not None
    assert failure.attrib == {"message": "2 errors", "type": "claim-too-high syntax"}


def test_a_broken_configuration_is_a_case_of_its_own(library: Path, command: Command) -> None:
    (library / "recipelang.toml").write_text('[library]\nschool-year = "soon"\n', encoding="utf-8")
    assert cases(parsed(command("check", "--format", "junit").out))["recipelang.toml"].find("failure") is not None


def test_what_xml_can_not_hold_is_written_out() -> None:
    """A bell in a line is shown by its number; angles and ampersands are data."""
    report = parsed(junit(result_of("recipe peach cup\n    makes 4 portions of 1 cup\n    zork\x07 & <b>\n")))
    assert "zork\\u0007 & <b>" in "".join(report.itertext())


@settings(max_examples=100, deadline=None)
@given(ANY_RESULT)
def test_whatever_is_in_names_the_report_parses(result: Result) -> None:
    report = parsed(junit(result))
    assert len(cases(report)) == int(report.attrib["tests"]) or not result.told
