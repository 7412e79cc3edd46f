"""The command line: one module a command, imported when it is chosen; here is only the argument parser.

Exit codes: 0 nothing at error level; 1 findings at error level (with `--strict` warnings too); 2 the command could not
do its work, with one line on standard error that says why.
"""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Iterator, Sequence
from importlib import import_module
from typing import Final, NoReturn

from recipelang.findings.finding import MOST_LETTERS
from recipelang.text.version import VERSION
from recipelang.text.visible import printable, visible


class CommandError(Exception):
    """The command can't do its work; the message is the one line that says why."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise CommandError(f"{message} (`{self.prog} --help` shows how)")


_COMMANDS: Final = {
    "check": "find what is wrong in recipes, foods, menus",
    "evaluate": "print every computed figure of recipes and menus",
    "scale": "print a batch for any number of portions, as a kitchen measures it",
    "print": "print papers of recipes: cards for the wall and the office, and books of them",
    "card": "print recipe cards: the same as `print card`",
    "trace": "show where one figure comes from, step by step",
    "compare": "say what a change means: credits, allergens, cost, nutrients, findings",
    "history": "say what became of a recipe or of the library, commit by commit",
    "bring-in": "bring in what exists: spreadsheets, documents, pasted recipes",
    "git": "have git show recipes by declaration, and merge them so",
    "format": "lay recipe files out: indentation, columns, blank lines",
    "explain": "explain a rule, or list all rules",
    "server": "serve an editor: findings, figures and fixes while typing",
}


def build_parser() -> argparse.ArgumentParser:
    """The commands and their options; a bad command line raises CommandError."""
    parser = _Parser(prog="recipelang", description="Standardized recipes in plain text: checked, computed, explained.")
    parser.add_argument("--version", action="version", version=f"recipelang {VERSION}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=_Parser)
    made = {name: commands.add_parser(name, help=text, description=text) for name, text in _COMMANDS.items()}

    _add_check(made["check"])

    evaluate = made["evaluate"]
    evaluate.add_argument("names", nargs="*", metavar="NAME", help="recipes, variations or menus")
    evaluate.add_argument("--all", action="store_true", help="all recipes and menus of the library")
    evaluate.add_argument("--portions", metavar="N", default="", help="figures and amounts for N portions")
    evaluate.add_argument("--sheet", action="store_true", help="menus as a cycle on one page, a row a week")
    evaluate.add_argument("--per", choices=("portion", "batch"), default="portion", help="nutrients and cost per")
    evaluate.add_argument("--format", choices=("text", "json", "csv"), default="text", help="csv: a row a figure")

    _add_scale(made["scale"])
    _add_print(made["print"])
    _add_card(made["card"])

    trace = made["trace"]
    trace.add_argument("name", metavar="NAME", help="a recipe, a variation or a menu")
    trace.add_argument(
        "figure",
        nargs="+",
        metavar="FIGURE",
        help="credits fruit · sodium · cost · allergens milk · yield · fill; "
        "of a menu: vegetable · dark green · sodium",
    )

    _add_compare(made["compare"])
    _add_history(made["history"])
    _add_git(made["git"])
    _add_bring_in(made["bring-in"])

    format_ = made["format"]
    format_.add_argument(
        "paths", nargs="*", metavar="PATH", help="files or folders (default: here); `-` standard input"
    )
    format_.add_argument("--check", action="store_true", help="change nothing; print what would change and exit 1")

    explain = made["explain"]
    explain.add_argument("rule", nargs="?", metavar="RULE", default="")

    server = made["server"]
    server.add_argument("--stdio", action="store_true", help="standard input and output, as is the default")
    server.add_argument("--tcp", type=int, metavar="PORT", help="a port of this machine instead, for debugging")

    for name in ("evaluate", "scale", "trace"):
        _add_place(made[name])
    return parser


def _add_check(check: argparse.ArgumentParser) -> None:
    check.add_argument("paths", nargs="*", metavar="PATH", help="files or folders (default: the library)")
    formats = ("text", "json", "sarif", "github", "junit")
    check.add_argument("--format", choices=formats, default="text", help="how findings are printed")
    check.add_argument("--school-year", metavar="YEAR", default="", help="the rules in force, as 2027-28")
    check.add_argument("--strict", action="store_true", help="warnings fail too")
    check.add_argument("--stdin-path", metavar="NAME", default="", help="standard input stands in for this file")
    check.add_argument("--dependents", action="store_true", help="also check files that use these recipes or foods")
    check.add_argument(
        "--if", dest="imagine", action="append", default=[], metavar="NAME: LINE; …",
        help='what would be found if a line said something else: "whipped ricotta: contains milk, soy"',
    )  # fmt: skip
    check.add_argument("--baseline", metavar="FILE", default="", help="hide the findings that a file holds")
    check.add_argument("--write-baseline", metavar="FILE", default="", help="put all findings into a file")
    check.add_argument("--no-cache", action="store_true", help="do not use the cache")


def _add_scale(scale: argparse.ArgumentParser) -> None:
    scale.add_argument("name", metavar="NAME", help="a recipe or a variation")
    size = scale.add_mutually_exclusive_group(required=True)
    size.add_argument("--portions", metavar="N", default="", help="for so many portions")
    size.add_argument("--pans", metavar="N", default="", help="to fill so many of its pans")
    size.add_argument("--containers", metavar="N", default="", help="to fill so many of its containers")
    size.add_argument(
        "--have", metavar="AMOUNT FOOD", default="", help='as much as this makes: "40 lb canned apricots"'
    )
    scale.add_argument("--format", choices=("text", "json"), default="text")


def _add_print(papers: argparse.ArgumentParser) -> None:
    what = papers.add_subparsers(dest="paper", required=True, metavar="PAPER", parser_class=_Parser)
    _add_card(what.add_parser("card", help="recipe cards; several in HTML make a book with contents and indexes"))


def _add_card(card: argparse.ArgumentParser) -> None:
    card.add_argument("names", nargs="*", metavar="NAME", help="recipes or variations")
    card.add_argument("--all", action="store_true", help="all recipes of the library")
    card.add_argument(
        "--to", choices=("text", "html", "pdf", "json"), default="", help="default: by the ending of -o, else text"
    )
    card.add_argument("-o", dest="out", metavar="OUT", default="", help="a file, or a folder/ for one file a card")
    card.add_argument("--side", choices=("bench", "desk", "both"), default="both", help="for the wall, for the office")
    card.add_argument("--paper", dest="sheet", choices=("letter", "a4"), default="letter")
    card.add_argument("--portions", metavar="N,N", default="", help="batch sizes (default: its own and the double)")
    card.add_argument(
        "--stamp", metavar="TEXT", default="", help="a version to print on each card; `git`: that of the last commit"
    )
    card.add_argument("--date", metavar="D", default="", help="a date to print on each card, as 2026-10-12")
    card.add_argument("--strict", action="store_true", help="print nothing if a card has an open error")
    _add_place(card)


def _add_place(command: argparse.ArgumentParser) -> None:
    command.add_argument("--workspace", metavar="PATH", default="", help="the library's folder or a file of it")
    command.add_argument("--school-year", metavar="YEAR", default="", help="the rules in force, as 2027-28")


def _add_compare(compare: argparse.ArgumentParser) -> None:
    compare.add_argument(
        "what", nargs="*", metavar="REV|PATH",
        help="one or two revisions (default: HEAD against the files as they are; A...B from where they parted), then paths",
    )  # fmt: skip
    compare.add_argument(
        "--if", dest="imagine", action="append", default=[], metavar="NAME: LINE; …",
        help='what if a line said something else: "whipped ricotta: contains milk, soy"',
    )  # fmt: skip
    compare.add_argument(
        "--use", action="append", default=[], metavar="X instead of Y", help="what if X were used wherever Y is"
    )
    compare.add_argument(
        "--with", dest="overlay", action="append", default=[], metavar="PATH",
        help="what if the declarations of a file or folder took the place of those so called",
    )  # fmt: skip
    compare.add_argument(
        "--prices", action="append", default=[], metavar="FILE", help="what if a price list held (CSV)"
    )
    compare.add_argument(
        "--school-year", metavar="YEAR", default="", help="what if another year's rules held, as 2027-28"
    )
    compare.add_argument("--without", action="append", default=[], metavar="NAME", help="what can't be made without it")
    compare.add_argument("--write", action="store_true", help="make the edits of --if, --use and --prices")
    compare.add_argument("--staged", action="store_true", help="against what is staged")
    compare.add_argument("--folders", nargs=2, metavar=("A", "B"), help="two folders as they are, without git")
    compare.add_argument(
        "--recipes", nargs="+", metavar="NAME", default=[], help="recipes beside each other, without git"
    )
    compare.add_argument("--all", action="store_true", help="with --recipes: also the figures that are the same")
    compare.add_argument("--by", choices=("cause", "recipe"), default="cause", help="what the report goes by")
    compare.add_argument("--only", metavar="WHAT,…", default="", help="credits, allergens, cost, sodium, findings …")
    compare.add_argument("--format", choices=("text", "json", "markdown"), default="text")
    compare.add_argument("--no-cache", action="store_true", help="do not use the cache")
    compare.add_argument(
        "--fail-on", metavar="WHAT,…", default="",
        help="exit 1 on credits, allergens, cost:0.05, sodium:5%%, yield, keeps, process, errors or any",
    )  # fmt: skip


def _add_history(history: argparse.ArgumentParser) -> None:
    history.add_argument(
        "what",
        nargs="*",
        metavar="NAME|REV..REV",
        help="a declaration (default: the library), then commits (default: all)",
    )
    history.add_argument(
        "--figure", metavar="FIGURE", default="", help="one figure over time: sodium, cost, credits fruit"
    )
    history.add_argument(
        "--when", metavar="CONDITION", default="", help='when it became true: "contains sesame", "cost > 1"'
    )
    history.add_argument("--all", action="store_true", help="also commits that changed its text and nothing computed")
    history.add_argument("--format", choices=("text", "json", "csv"), default="text")
    history.add_argument("--workspace", metavar="PATH", default="", help="the library's folder or a file of it")
    history.add_argument("--no-cache", action="store_true", help="do not use the cache")


def _add_bring_in(bring_in: argparse.ArgumentParser) -> None:
    bring_in.add_argument("files", nargs="+", metavar="FILE", help="what to bring in; `-` is pasted text")
    bring_in.add_argument(
        "--as",
        dest="kind",
        choices=("recipe", "foods", "prices"),
        default="",
        help="what the file holds (default: told by its columns)",
    )
    bring_in.add_argument("--name", metavar="NAME", default="", help="what the recipe is to be called")
    bring_in.add_argument(
        "--sheet", metavar="NAME", default="", help="which sheet of a spreadsheet; `*` for all of them"
    )
    bring_in.add_argument(
        "--columns", metavar="WORD,…", default="",
        help='what the columns of a table hold, in their order: "ingredient, weight, measure"; `-` passes one over',
    )  # fmt: skip
    bring_in.add_argument("--per", metavar="AMOUNT", default="", help='what nutrition figures are of: "100 g"')
    bring_in.add_argument(
        "-o", "--output", metavar="FILE", default="", help="write a new file; one that is there stays"
    )
    bring_in.add_argument(
        "--format", choices=("text", "json"), default="text", help="the notation, or JSON with the doubts"
    )
    bring_in.add_argument(
        "--write", action="store_true", help="of a price list: edit the `price` lines of the library in place"
    )
    bring_in.add_argument("--check", action="store_true", help="of a price list: exit 1 when it would change anything")
    bring_in.add_argument(
        "--packs", action="store_true", help="of a price list: take its packs too where they are others"
    )
    bring_in.add_argument("--strict", action="store_true", help="exit 1 when something is doubtful")
    bring_in.add_argument("--workspace", metavar="PATH", default="", help="the library's folder or a file of it")


def _add_git(git: argparse.ArgumentParser) -> None:
    works = git.add_subparsers(dest="work", required=True, metavar="WORK", parser_class=_Parser)
    set_up = works.add_parser("set-up", help="print the settings that make git know recipes, or write them")
    set_up.add_argument("--write", action="store_true", help="write .gitattributes, and tell git in this clone")
    for name, what in (
        ("text", "for git: a file laid out, without remarks"),
        ("difference", "for git: what the change of a file means, and its changed lines"),
        ("merge", "for git: merge a file by declaration"),
    ):
        # what git hands over may begin with a dash: a file can be called so
        works.add_parser(name, help=what).add_argument("words", nargs=argparse.REMAINDER, metavar="WORD")


@contextlib.contextmanager
def quiet_reader() -> Iterator[None]:
    """Output to a reader who may go away (`… | head -1`): what is left unread is dropped, and the exit code stays."""
    try:
        yield
        sys.stdout.flush()
    except BrokenPipeError:
        # Python would try to write the rest at its end, and complain
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def run(arguments: Sequence[str]) -> int:
    """Runs a command line and returns its exit code. Nothing a user wrote gives a traceback."""
    try:
        options = build_parser().parse_args(arguments)
        _stand_somewhere()
        name = options.paper if options.command == "print" else options.command  # a module `print` would hide print()
        module = import_module(f"recipelang.commands.{name.replace('-', '_')}")
        code: int = module.run(options)
        sys.stdout.flush()
        return code
    except CommandError as error:
        return _refuse(str(error))
    except BrokenPipeError:
        # the reader went away (`… | head`): not an error of ours
        sys.stderr.close()
        return 0
    except ModuleNotFoundError as error:
        if error.name is None or error.name.startswith("recipelang"):
            raise
        return _refuse(
            f"{error.name} is not installed; `pip install recipelang`, or `pip install -e .` in a checkout, does"
        )
    except OSError as error:
        return _refuse(f"{error.filename or 'the system'}: {(error.strerror or str(error)).lower()}")
    except KeyboardInterrupt:
        return _refuse("stopped")
    except Exception as error:
        if os.environ.get("RECIPELANG_TRACEBACK"):
            raise
        return _refuse(
            f"failed: {type(error).__name__}: {error}; this is a fault of recipelang, not of your files: please report it"
            " (RECIPELANG_TRACEBACK=1 shows where)"
        )


def _refuse(why: str) -> int:
    """One line on standard error, whatever was typed and quoted in it, and the exit code that goes with it."""
    line = visible(" ".join(why.split())).encode("utf-8", "backslashreplace").decode("utf-8")
    print(printable(f"recipelang: {line if len(line) <= MOST_LETTERS else line[:MOST_LETTERS] + '…'}"), file=sys.stderr)
    return 2


def _stand_somewhere() -> None:
    """Raises CommandError where the current folder has been deleted: no path can be told from there."""
    try:
        os.getcwd()
    except FileNotFoundError:
        raise CommandError("the current folder no longer exists; change to another one") from None
