"""`recipelang check`: all findings of files or folders."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from recipelang.commands import CommandError, quiet_reader
from recipelang.commands.arguments import checked_year, existing
from recipelang.workspace.check import Progress, check_paths
from recipelang.workspace.grouping import Group, by_library, merged
from recipelang.workspace.report import Result, cut

if TYPE_CHECKING:
    from recipelang.workspace.rule_year_diff import Years


def run(options: argparse.Namespace) -> int:
    year = checked_year(options.school_year)
    text: str | None = None
    paths = options.paths or ["."]
    if options.stdin_path:
        text = _standard_input()
        if not options.paths:
            paths = []
    else:
        existing(options.paths)
    named = [Path(path) for path in paths]
    groups = [Group(None, named)] if options.stdin_path else by_library(named, options.dependents)
    instead = _imagined(options, groups) if options.imagine else None

    def check(year: str, progress: Progress | None) -> Result:
        found = (
            check_paths(
                group.paths,
                year,
                stdin_path=options.stdin_path,
                stdin_text=text,
                use_cache=not options.no_cache,
                dependents=options.dependents,
                progress=progress,
                library=group.root,
                instead=instead,
            )
            for group in groups
        )
        return merged(list(found))

    own: Result | None = None
    if sys.stderr.isatty():
        from recipelang.output.progress import progress

        with progress() as told:
            result = check(year, told)
            own = check("", told) if year else None
    else:
        result = check(year, None)
        own = check("", None) if year else None
    if options.baseline or options.write_baseline:
        from recipelang.commands.baselines import with_baseline

        result, own = with_baseline(result, own, options.baseline, options.write_baseline)
    result, years = cut(result)._replace(imagined=tuple(options.imagine)), _against_own(own, result)
    code = _exit_code(result, options.strict)
    with quiet_reader():
        _print(result, years, options)
    return code


def _imagined(options: argparse.Namespace, groups: list[Group]) -> dict[str, str]:
    """The files in which something is imagined, as they would be."""
    from recipelang.commands.what_if import imagined_texts

    if options.stdin_path or options.baseline or options.write_baseline or options.format not in ("text", "json"):
        raise CommandError(
            "--if goes with --format text or json, without standard input and baselines: nobody may file it"
        )
    if len(groups) != 1:
        raise CommandError("--if imagines something of one library; name a path of it")
    (group,) = groups
    return imagined_texts(group.paths if group.root is None else [group.root], options.imagine)


def _against_own(own: Result | None, result: Result) -> Years | None:
    """What another year changes; None where the library's own year was asked for, or where it has none."""
    if own is None or own.school_year in ("", result.school_year):
        return None
    from recipelang.workspace.rule_year_diff import Years, changes

    return Years(own.school_year, result.school_year, changes(own.told, result.told))


def _print(result: Result, years: Years | None, options: argparse.Namespace) -> None:
    """The result in the format asked for."""
    if options.format == "text":
        from recipelang.output.as_text import print_findings

        print_findings(result, years)
        return
    if options.format == "json":
        from recipelang.output.as_json import findings_json

        sys.stdout.write(findings_json(result, years))
    elif options.format == "junit":
        from recipelang.output.as_junit import junit

        sys.stdout.write(junit(result, options.strict))
    else:
        from recipelang.workspace.files import below_repository

        prefix = below_repository(result.root)
        if options.format == "sarif":
            from recipelang.output.as_sarif import sarif

            sys.stdout.write(sarif(result, prefix))
        else:
            from recipelang.output.as_github import workflow_commands

            for line in workflow_commands(result, prefix):
                sys.stdout.write(line + "\n")


def _exit_code(result: Result, strict: bool) -> int:
    counts = result.counts
    if any(one.finding.rule == "internal-error" for one in result.told):
        return 2
    return 1 if counts["error"] or (strict and counts["warning"]) else 0


def _standard_input() -> str:
    from recipelang.text.source import MOST_BYTES, UnreadableText, decode

    try:
        return decode(sys.stdin.buffer.read(MOST_BYTES + 1))
    except UnreadableText as error:
        raise CommandError(f"standard input can't be read: {error}") from None
