"""`recipelang.toml`: what a library says of itself. A broken file is a finding, and the work goes on with defaults."""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path
from typing import Any, Final

from recipelang.findings.finding import ERROR, OFF, SEVERITIES, DeclarationId, Finding, Place
from recipelang.model.dates import Age, read_age
from recipelang.text.record import Record
from recipelang.text.school_year import is_school_year
from recipelang.text.source import UnreadableText
from recipelang.units.fraction import Fraction
from recipelang.workspace.files import CONFIG_NAME, MOST_INCLUDED, is_too_large, read_bytes

_SECTIONS: Final = {
    "library": {"name", "school-year", "include", "exclude"},
    "rules": None,
    "safety": None,
    "labels": {"oldest"},
    "tolerances": {"weight-measure", "yield"},
    "units": None,
}
DEFAULT_TOLERANCES: Final = {"weight-measure": Fraction(5, 100), "yield": Fraction(10, 100)}
_HOME: Final = DeclarationId(CONFIG_NAME, "")


class OwnUnit(Record):
    """A unit of the library's own: its name and what it is (`bowl = "12 fl oz"`), and where that stands."""

    name: str
    definition: str
    place: Place


class Config(Record):
    name: str = ""
    school_year: str = ""
    include: tuple[str, ...] = ()
    exclude: tuple[str, ...] = ()
    rules: tuple[tuple[str, str], ...] = ()
    """Severities by rule."""
    safety: tuple[tuple[str, str], ...] = ()
    tolerances: tuple[tuple[str, Fraction], ...] = tuple(DEFAULT_TOLERANCES.items())
    units: tuple[OwnUnit, ...] = ()
    oldest_label: Age | None = None
    """How long ago a label may have been read; None where the library sets no limit."""
    problems: tuple[Finding, ...] = ()
    is_read: bool = True
    """Whether the file could be read at all, however little of it could be used."""


def read_config(root: Path) -> Config:
    """The configuration of a library's root; defaults where there is no file."""
    path = root / CONFIG_NAME
    try:
        data = read_bytes(path)
    except UnreadableText as error:
        return _unread(0, 0, str(error)) if os.path.lexists(path) else Config()
    return with_missing_folders(config_of(data), root, data.decode("utf-8-sig", "replace").replace("\r\n", "\n"))


def with_missing_folders(config: Config, root: Path, text: str) -> Config:
    """A configuration with what is to be said of folders to include that are not there, or hold more than recipes; the
    latter are left out. `text` is what it was read from."""
    missing = [name for name in config.include if not (root / name).is_dir()]
    large = [name for name in config.include if name not in missing and is_too_large(root / name)]
    problems = [*config.problems, *(_no_folder(text, name) for name in missing)]
    problems += [_too_large(text, name) for name in large]
    return config._replace(
        problems=tuple(problems), include=tuple(name for name in config.include if name not in large)
    )


def config_of(data: bytes) -> Config:
    """The configuration in a file's bytes."""
    try:
        return parse_config(data.decode("utf-8-sig").replace("\r\n", "\n"))
    except UnicodeDecodeError:
        why = "it is not UTF-8 text"
        return _unread(0, 0, why)


def parse_config(text: str) -> Config:
    """The configuration in a text; what can't be used is left at its default and reported."""
    try:
        data = tomllib.loads(text)
    except RecursionError:
        return _unread(0, len(text.split("\n", 1)[0]), "its brackets are nested too deep")
    except tomllib.TOMLDecodeError as error:
        match = re.search(r"line (\d+)", str(error))
        start, end = _line(text, int(match[1]) if match else text.count("\n") + 1)
        why = re.sub(r" \(at .*\)$", "", str(error))
        return _unread(start, end, why)
    return _Reader(text, data).config()


class _Reader:
    def __init__(self, text: str, data: dict[str, Any]) -> None:
        self.text = text
        self.data = data
        self.problems: list[Finding] = []

    def config(self) -> Config:
        for section, value in self.data.items():
            if section not in _SECTIONS or not isinstance(value, dict):
                self.problem(section, f"`{section}` is not a section of {CONFIG_NAME}",
                             f"its sections are {', '.join(_SECTIONS)}")  # fmt: skip
                continue
            known = _SECTIONS[section]
            for key in value:
                if known is not None and key not in known:
                    self.problem(
                        key, f"`{key}` means nothing under `[{section}]`", f"known are {', '.join(sorted(known))}"
                    )
        library = self.section("library")
        year = self.text_of(library, "school-year")
        if year and not is_school_year(year):
            self.problem("school-year", f"`{year}` is not a school year", "write it like `2026-27`")
            year = ""
        return Config(
            name=self.text_of(library, "name"),
            school_year=year,
            include=self.texts_of(library, "include"),
            exclude=self.texts_of(library, "exclude"),
            rules=self.rules(),
            safety=self.safety(),
            tolerances=self.tolerances(),
            units=tuple(OwnUnit(key, str(value), self.place(key)) for key, value in self.section("units").items()),
            oldest_label=self.oldest_label(),
            problems=tuple(self.problems),
        )

    def section(self, name: str) -> dict[str, Any]:
        value = self.data.get(name, {})
        return value if isinstance(value, dict) else {}

    def text_of(self, section: dict[str, Any], key: str) -> str:
        value = section.get(key, "")
        if isinstance(value, str):
            return value
        self.problem(key, f"`{key}` must be a text in quotes", f'write `{key} = "…"`')
        return ""

    def texts_of(self, section: dict[str, Any], key: str) -> tuple[str, ...]:
        value = section.get(key, [])
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return tuple(value)
        self.problem(key, f"`{key}` must be a list of folders", f'write `{key} = ["folder"]`')
        return ()

    def safety(self) -> tuple[tuple[str, str], ...]:
        """The Food Code edition and stricter local figures; looser ones are refused."""
        given = tuple((key, str(value)) for key, value in self.section("safety").items())
        if not given:
            return ()
        from recipelang.standards.food_code import local_limits

        refused = local_limits(given).problems
        for problem in refused:
            self.problem(problem.key, problem.what, problem.help)
        shut = {problem.key for problem in refused}
        return tuple((key, value) for key, value in given if key not in shut)

    def oldest_label(self) -> Age | None:
        """How old a label may be, in days, weeks, months or years."""
        value = self.section("labels").get("oldest")
        if value is None:
            return None
        age = read_age(value) if isinstance(value, str) else None
        if age is None:
            self.problem("oldest", f"`{value}` is no age of a label", 'write it like `oldest = "12 months"`')
        return age

    def rules(self) -> tuple[tuple[str, str], ...]:
        from recipelang.rules.catalogue import names, rules

        found: list[tuple[str, str]] = []
        for key, value in self.section("rules").items():
            if key not in names():
                self.problem(key, f"no rule is called `{key}`", "`recipelang explain` lists the rules")
            elif value not in (*SEVERITIES, OFF):
                self.problem(key, f"`{value}` is not a severity", "write off, hint, warning or error")
            elif value != ERROR and rules()[key].hard:
                self.problem(key, f"`{key}` stays an error", f"take the line out; `recipelang explain {key}` says why")
            else:
                found.append((key, str(value)))
        return tuple(found)

    def tolerances(self) -> tuple[tuple[str, Fraction], ...]:
        found = dict(DEFAULT_TOLERANCES)
        for key, value in self.section("tolerances").items():
            if key not in DEFAULT_TOLERANCES:
                continue
            match = re.fullmatch(r"(\d+(?:\.\d+)?)[ ]*%", value) if isinstance(value, str) else None
            share = Fraction(match[1]) / 100 if match else None
            if share is None or not 0 <= share < 1:
                self.problem(key, f"`{value}` is not a share", f'write `{key} = "5%"`')
            else:
                found[key] = share
        return tuple(found.items())

    def place(self, key: str) -> Place:
        """The line of a key or a section; the first line where it can't be found."""
        at = re.search(rf'^[ \t]*\[?"?{re.escape(key)}"?(?![\w-]).*$', self.text, re.MULTILINE)
        start, end = (at.start(), at.end()) if at else (0, len(self.text.split("\n", 1)[0]))
        start += len(self.text[start:end]) - len(self.text[start:end].lstrip())
        return Place(_HOME, start, end)

    def problem(self, key: str, what: str, help: str) -> None:
        place = self.place(key)
        self.problems.append(_problem(place.start, place.end, f"In {CONFIG_NAME}, {what}.", help))


def _line(text: str, number: int) -> tuple[int, int]:
    start = 0
    for _ in range(number - 1):
        at = text.find("\n", start)
        if at == -1:
            break
        start = at + 1
    end = text.find("\n", start)
    return start, len(text) if end == -1 else end


def _no_folder(text: str, name: str) -> Finding:
    """An `include` that leads nowhere: every name that it should supply is unknown because of it."""
    place = _Reader(text, {}).place("include")
    what = f"In {CONFIG_NAME}, there is no folder `{name}` to include."
    return _problem(place.start, place.end, what, f"write the folder as it is reached from {CONFIG_NAME}")


def _too_large(text: str, name: str) -> Finding:
    place = _Reader(text, {}).place("include")
    what = f"In {CONFIG_NAME}, the folder `{name}` to include holds more than {MOST_INCLUDED:,} files; it is left out."
    return _problem(place.start, place.end, what, "write a folder that holds recipes only")


def _unread(start: int, end: int, why: str) -> Config:
    problem = _problem(start, end, f"{CONFIG_NAME} can't be read: {why}.", "the defaults are used")
    return Config(problems=(problem,), is_read=False)


def _problem(start: int, end: int, message: str, help: str) -> Finding:
    return Finding("bad-config", ERROR, Place(_HOME, start, end), message, help=help)
