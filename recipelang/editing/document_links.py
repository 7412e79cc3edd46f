"""What a text leads to outside of the notation: web addresses, documents of evidence, the pages of rules it allows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from urllib.parse import quote, urlsplit

from recipelang.editing.readonly_pages import page_path
from recipelang.rules.catalogue import page
from recipelang.syntax.split import STRAY, comments_of, without_comment
from recipelang.text.record import Record
from recipelang.workspace.files import leads_out
from recipelang.workspace.source_file import File

_ADDRESS: Final = re.compile(r'"(?P<quoted>https?://[^"\n]+)"|(?P<plain>\bhttps?://[^\s<>"]+)', re.IGNORECASE)
_AFTER: Final = ".,;:!?'*"
"""Marks behind an address that end the sentence around it."""
_FILE: Final = re.compile(r'\bfile[ \t]+"(?P<name>[^"\n]+)"', re.IGNORECASE)
_ELSEWHERE: Final = re.compile(r"[/\\~]|[A-Za-z]:|\w+:[/\\]")
"""How a name begins that is no place below a folder: from the top, from home, of a drive, a server or an address."""
_ALLOW: Final = re.compile(r"//[ \t]*allow[ \t]+(?P<rule>[\w-]+)", re.IGNORECASE)
_KEPT: Final = "/?#[]@!$&'()*+,;=:%~"


class Link(Record):
    """A stretch of a file, and where it leads: to an address or to a file on disk."""

    start: int
    end: int
    address: str
    path: Path | None
    about: str


def links_in(file: File, root: Path) -> list[Link]:
    """The links of a file, in order of place. Files are looked for beside it, then in the library's folder."""
    beside = (root / file.path).parent
    return sorted([*_addresses(file.text), *_documents(file.text, (beside, root)), *_rules(file)])


def _addresses(text: str) -> Iterator[Link]:
    for match in _ADDRESS.finditer(text):
        group = "quoted" if match["quoted"] else "plain"
        written = match[group] if group == "quoted" else _trimmed(match[group])
        address = _encoded(written)
        if address:
            yield Link(match.start(group), match.start(group) + len(written), address, None, "")


def _trimmed(written: str) -> str:
    """An address without the marks of the sentence around it."""
    while written[-1] in _AFTER or (written[-1] in ")]}" and not _is_closed(written)):
        written = written[:-1]
    return written


def _is_closed(written: str) -> bool:
    """Whether the bracket at the end has one in front that it closes."""
    close = written[-1]
    return written.count(close) <= written.count("([{"[")]}".index(close)])


def _encoded(written: str) -> str:
    """An address as programs take it; empty for what is none."""
    try:
        parts = urlsplit(written)
        host = parts.netloc.encode("ascii" if parts.netloc.isascii() else "idna").decode("ascii")
    except ValueError:
        return ""
    return parts._replace(netloc=host, **{
        name: quote(getattr(parts, name), safe=_KEPT) for name in ("path", "query", "fragment")
    }).geturl() if host else ""  # fmt: skip


def _documents(text: str, folders: tuple[Path, ...]) -> Iterator[Link]:
    """Files that evidence names, where they are there."""
    at = 0
    for line in text.split("\n"):
        for match in _FILE.finditer(without_comment(line)) if '"' in line else ():
            inside = _is_inside(match["name"])
            found = next((path for folder in folders if inside and _is_file(path := folder / match["name"])), None)
            if found is not None:
                yield Link(at + match.start("name"), at + match.end("name"), "", found, str(found))
        at += len(line) + 1


def _is_inside(name: str) -> bool:
    """Whether a name leads downward from a folder of the library. Another is never looked up: asking whether
    `//server/share` is there hands a stranger's server the name and password of whoever opened the file."""
    return not _ELSEWHERE.match(name) and ".." not in re.split(r"[/\\]", name)


def _is_file(path: Path) -> bool:
    try:
        return path.is_file() and not leads_out(path)
    except (OSError, ValueError):  # a name that no file can have
        return False


def _rules(file: File) -> Iterator[Link]:
    """The rules that allowances name."""
    for declaration in file.declarations:
        for start, _ in comments_of(declaration) if declaration.kind != STRAY else ():
            match = _ALLOW.match(declaration.text, start)
            found = None if match is None else page(match["rule"].casefold())
            if match is None or found is None:
                continue
            path = page_path(found.name)
            if path.is_file():
                places = (declaration.start + match.start("rule"), declaration.start + match.end("rule"))
                yield Link(*places, "", path, found.summary)
