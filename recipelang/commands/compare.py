"""`recipelang compare`: what a change means, between commits, the index, the files as they are, or two folders."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from recipelang.commands import CommandError, quiet_reader
from recipelang.commands.arguments import checked_year, existing
from recipelang.findings.nearest import nearest
from recipelang.findings.wording import listed
from recipelang.text.visible import printable, visible
from recipelang.versions.comparison import Comparison, compare
from recipelang.versions.difference import Wanted
from recipelang.versions.effects import CATEGORIES
from recipelang.versions.failing import Condition, UnknownCondition, conditions, failures
from recipelang.versions.imagining import Asked, CantImagine, Imagined, imagine, written
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.sources import Reader, Version
from recipelang.versions.traces import Traces
from recipelang.workspace.disk import relative_to, root_for
from recipelang.workspace.git import GitError, Repository


def run(options: argparse.Namespace) -> int:
    try:
        wanted = conditions(options.fail_on)
    except UnknownCondition as error:
        raise CommandError(f"--fail-on: {error}") from None
    only = _only(options.only)
    if options.recipes:
        return _recipes(options)
    if options.without:
        from recipelang.commands.without import run as without

        if (
            asked_for(options).words
            or options.write
            or options.staged
            or options.folders
            or options.fail_on
            or options.format == "markdown"
        ):
            raise CommandError(
                "--without stands alone: with paths of a library and --format text or json, without --if, --write and all else"
            )
        return without(options)
    asked = asked_for(options)
    if options.write and not asked.words:
        raise CommandError("--write makes what is imagined; it takes --if, --use or --prices")
    try:
        made = _imagined(options, asked, only) if asked.words else _compared(options, only)
    except (GitError, CantImagine) as error:
        raise CommandError(str(error)) from None
    code = _exit_code(made, wanted)
    with quiet_reader():
        _print(made, options)
    return code


def asked_for(options: argparse.Namespace) -> Asked:
    """What a command line asks to imagine."""
    year = checked_year(options.school_year)
    lines, swaps = tuple(options.imagine), tuple(options.use)
    return Asked(
        lines, swaps, tuple(map(str, existing(options.overlay))), tuple(map(str, existing(options.prices))), year
    )


def _imagined(options: argparse.Namespace, asked: Asked, only: frozenset[str]) -> Comparison:
    """The library as it is, or a revision of it, against what is imagined of it. Git is needed for a revision only."""
    if options.folders or options.staged:
        raise CommandError(
            "what is imagined is imagined of the files as they are; --folders and --staged have no place"
        )
    revisions, paths = _apart(options.what, False)
    if len(revisions) > 1 or any(".." in one for one in revisions):
        raise CommandError("what is imagined takes one revision at most, to set it against")
    root, is_library = root_for(paths)
    repository = _repository(root)
    if revisions and repository is None:
        repository = Repository(root)  # raises with the reason
    traces = Traces() if options.no_cache or repository is None else Traces.of_repository(repository.shared_folder)
    reader = Reader(root, is_library, known=traces.said, repository=repository)
    now = reader.working_tree()
    older = reader.commit(revisions[0]) if revisions else now
    made = imagine(reader, now, asked)
    if revisions:
        made = made._replace(version=made.version._replace(label=made.version.label.replace("the same", now.label, 1)))
    compared = compare(older, made.version, Outcomes(traces), _below(root, paths), only, made.refs, made.joined)
    traces.save()
    if options.write:
        _write(root, made, asked)
    return compared


def _repository(root: Path) -> Repository | None:
    try:
        return Repository(root)
    except GitError:
        return None


def _write(root: Path, made: Imagined, asked: Asked) -> None:
    """Makes the edits in the files, all or none."""
    from recipelang.text.writing import write_all

    if asked.files or asked.school_year:
        raise CommandError("--write makes the edits of --if, --use and --prices; --with and --school-year edit no file")
    contents = written(root, made)
    write_all(contents)
    for path in sorted(contents):
        print(f"wrote {os.path.relpath(path)}", file=sys.stderr)


def _compared(options: argparse.Namespace, only: frozenset[str]) -> Comparison:
    if options.folders:
        return _folders(options, only)
    revisions, paths = _apart(options.what, options.staged)
    root, is_library = root_for(paths)
    repository = Repository(root)
    traces = Traces() if options.no_cache else Traces.of_repository(repository.shared_folder)
    reader = Reader(root, is_library, known=traces.said, repository=repository)
    newer, older = _sides(reader, revisions, options.staged)
    made = compare(older, newer, Outcomes(traces), _below(root, paths), only)
    traces.save()
    return made


def _recipes(options: argparse.Namespace) -> int:
    """Recipes of the library around the current folder, beside each other."""
    from recipelang.commands.opening import open_for
    from recipelang.facts.recipe.recipe import base_of
    from recipelang.output import side_by_side as output
    from recipelang.output.printing import print_blocks
    from recipelang.versions.side_by_side import side_by_side
    from recipelang.workspace.lookup import NothingNamed, recipe_named

    if options.what or options.staged or options.folders or options.fail_on or options.only:
        raise CommandError(
            "--recipes sets recipes of the library as it is beside each other; it takes --all and --format"
        )
    workspace = open_for("", "")
    try:
        refs = [recipe_named(workspace, name) for name in options.recipes]
    except NothingNamed as error:
        raise CommandError(str(error)) from None
    base = base_of(workspace.facts, refs[0]) if len(refs) == 1 else None
    if len(refs) == 1 and base is None:
        raise CommandError(f"`{options.recipes[0]}` is no variation; name another recipe to set beside it")
    made = side_by_side(workspace.facts, [*refs, *([base] if base is not None else [])], options.all)
    if options.format == "json":
        sys.stdout.write(output.side_by_side_json(made))
    elif options.format == "markdown":
        sys.stdout.write(printable(output.side_by_side_markdown(made)))
    else:
        print_blocks([output.side_by_side_lines(made)])
    return 0


def _folders(options: argparse.Namespace, only: frozenset[str]) -> Comparison:
    if options.what or options.staged:
        raise CommandError("--folders compares two folders as they are; it takes no revision, no path and no --staged")
    versions: list[Version] = []
    for name in options.folders:
        folder = Path(name)
        if not folder.is_dir():
            raise CommandError(f"there is no folder {name}")
        root, is_library = root_for([folder])
        reader = Reader(root if is_library and root == Path(os.path.abspath(folder)) else folder, is_library)
        versions.append(reader.folder(name))
    return compare(versions[0], versions[1], only=only)


def _sides(reader: Reader, revisions: list[str], staged: bool) -> tuple[Version, Version]:
    """The newer and the older version. The files as they are come first: most of what a commit holds is among them."""
    if len(revisions) == 1 and "..." in revisions[0]:
        one, _, other = revisions[0].partition("...")
        repository = reader.repository
        newest = repository.commit(other or "HEAD")
        base = repository.merge_base(repository.commit(one or "HEAD"), newest)
        return reader.commit(newest), reader.commit(base)
    if len(revisions) == 1 and ".." in revisions[0]:
        one, _, other = revisions[0].partition("..")
        return reader.commit(other or "HEAD"), reader.commit(one or "HEAD")
    if len(revisions) == 2:
        return reader.commit(revisions[1]), reader.commit(revisions[0])
    newer = reader.index() if staged else reader.working_tree()
    return newer, reader.commit(revisions[0] if revisions else "HEAD")


def _apart(words: list[str], staged: bool) -> tuple[list[str], list[Path]]:
    """The revisions that stand first, at most two, and the paths behind them. What is no file is taken for a revision."""
    revisions: list[str] = []
    for word in words[: 1 if staged else 2]:
        if os.path.lexists(word):
            if _is_revision(word):
                raise CommandError(f"`{word}` is a revision and a file; write `./{word}` for the file")
            break
        revisions.append(word)
        if ".." in word:
            break
    return revisions, existing(words[len(revisions) :])


def _is_revision(word: str) -> bool:
    """Whether git knows a word as a commit, asked where the command stands."""
    if word.startswith((".", "/")):
        return False
    try:
        Repository(Path.cwd()).commit(word)
    except GitError:
        return False
    return True


def _below(root: Path, paths: list[Path]) -> Wanted | None:
    """Whether a declaration's file is one of those asked for, or below one of the folders."""
    names = [relative_to(root, path) for path in paths]
    if not names or "." in names:
        return None
    return lambda path: any(path == name or path.startswith(f"{name}/") for name in names)


def _only(text: str) -> frozenset[str]:
    """The kinds of effects that are asked for: categories, and nutrients by name."""
    from recipelang.model.vocabulary import NUTRIENT_SPELLINGS, NUTRIENTS

    words = [" ".join(word.casefold().split()) for word in text.split(",") if word.strip()]
    found = [NUTRIENT_SPELLINGS.get(word, word) for word in words]
    for word in found:
        if word not in CATEGORIES and word not in NUTRIENTS:
            near = nearest(word, [*CATEGORIES, *NUTRIENTS], 1)
            hint = f"; did you mean `{near[0]}`?" if near else ""
            raise CommandError(
                f"--only: `{word}` is no kind of effect; there are {listed(CATEGORIES)}, and the nutrients{hint}"
            )
    return frozenset(found)


def _print(made: Comparison, options: argparse.Namespace) -> None:
    if options.format == "json":
        from recipelang.output.compare_json import comparison_json

        sys.stdout.write(comparison_json(made))
    elif options.format == "markdown":
        from recipelang.output.compare_markdown import comparison_markdown

        sys.stdout.write(printable(comparison_markdown(made)))
    else:
        from recipelang.output.compare_text import comparison_lines
        from recipelang.output.printing import print_blocks

        print_blocks([comparison_lines(made, options.by)])


def _exit_code(made: Comparison, wanted: list[Condition]) -> int:
    found = failures(made, wanted)
    sys.stdout.flush()
    for sentence in found:
        print(printable(f"recipelang: {visible(sentence)}"), file=sys.stderr)
    return 1 if found else 0
