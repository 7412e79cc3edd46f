"""A library on disk and in an editor, and what a fresh check says of it: a copy of the files is kept elsewhere, with the
open texts in place of those on disk, and checked from scratch."""

from __future__ import annotations

import os
import shutil
import tempfile
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

from recipelang.findings.finding import ERROR, WARNING
from recipelang.server.convert import message_of
from recipelang.text.source import UnreadableText, decode
from recipelang.workspace.check import check_paths
from recipelang.workspace.files import CONFIG_NAME
from recipelang.workspace.report import LocatedFinding
from recipelang.workspace.source_file import Range

FILES: Final = (
    *(f"{n}.recipe" for n in range(1, 9)),
    *(f"b/{n}.recipe" for n in range(1, 5)),
    *(f"b/c/{n}.recipe" for n in range(1, 4)),
    *(f"shut/{n}.recipe" for n in range(1, 3)),
    *(f"../pantry/{n}.recipe" for n in range(1, 4)),
)
INNER: Final = f"b/{CONFIG_NAME}"
SUPPLIER: Final = f"../pantry/{CONFIG_NAME}"
WRITTEN: Final = (
    "// 🍑 ½ crème at the top\n",
    "recipe crème 🍑 cup\n    makes 20 portions of 1 oz  // ½\n    made without soy\n    ingredients\n"
    "        1 lb whole wheat flour, not credited\n        2 cups 🍦 mystery\n        1 tbsp baking powder\n",
    "variation 🍑\n    based on crème 🍑 cup\n    leave out 🍦 mystery\n    use 2 🍦 instead of 🍦 mystery\n",
)
CONFIGS: Final = (
    "", "# nothing\n", '[library]\nname = "Brindle Cove"\n', '[library]\nschool-year = "2026-27"\n',
    '[library]\nschool-year = "2026"\n', '[library]\nexclude = ["shut"]\n', '[library]\nexclude = ["b/c", "2.recipe"]\n',
    '[library]\ninclude = ["../pantry"]\n', '[library]\ninclude = ["../pantry"]\nexclude = ["b"]\n',
    '[library]\ninclude = ["nowhere"]\n', '[library]\ninclude = ["shut"]\n',
    '[library]\ninclude = ["shut"]\nexclude = ["shut"]\n', '# ½\n[rules]\nunknown-name = "off"\nno-such = "off"\n',
    '[rules]\nunused-ingredient = "error"\nmissing-field = "hint"\nsyntax = "off"\n',
    '[units]\nbowl = "12 fl oz"\n', '# 🍑\n[units]\nbowl = "12 folz"\ncup = "3 lb"\n', '[tolerances]\nyield = "1%"\n',
    '[tolerances]\nyield = 5\n', '[safety]\nedition = "1900"\n', '[nonsense]\n"🍑" = 1\n',
)  # fmt: skip
OTHER_CONFIGS: Final = ("", "", '[library]\nexclude = ["c", "1.recipe"]\n', "[nonsense]\n", CONFIGS[13])
BROKEN: Final = ("[library\n", '# 🍑\n[units]\nbowl = "12\n', "a = [[[[\n", "= 3", "x = 1\nx = 2\n")


class Copied:
    """The files and texts, and the copy. Files are called as from the library; the folder beside it supplies names."""

    def __init__(self) -> None:
        self.base = Path(tempfile.mkdtemp(prefix="recipelang-"))
        self.folder = self.base / "real" / "library"
        self.mirror = self.base / "mirror" / "library"
        self.bare = self.base / "bare" / "library"
        self.disk: dict[str, bytes] = {}
        self.texts: dict[str, str] = {}
        """What stands in the editor."""
        self.mirrored: dict[str, bytes] = {}
        self.in_force = b""
        self.encoding = "utf-16"
        """How the client counts columns."""
        self.has_two = False
        """Whether the folder that supplies names is open as well."""
        for folder in ("b/c", "shut", "../pantry"):
            (self.folder / folder).mkdir(parents=True)
            (self.mirror / folder).mkdir(parents=True)

    def remove(self) -> None:
        shutil.rmtree(self.base)

    def put(self, name: str, data: bytes | None) -> None:
        """Writes a file, or takes it away."""
        _write(self.folder / name, data)
        if data is None:
            self.disk.pop(name, None)
        else:
            self.disk[name] = data

    def note_config(self) -> None:
        """The last configuration that could be read stays in force as long as there is one at all."""
        if CONFIG_NAME not in self.disk:
            self.in_force = b""
        elif _is_read(self.config):
            self.in_force = self.config

    @property
    def config(self) -> bytes:
        text = self.texts.get(CONFIG_NAME)
        return self.disk[CONFIG_NAME] if text is None else text.encode()

    # ---- what a fresh check says ----

    def expected(self) -> dict[str, list[Any]]:
        """What a fresh check says, as the client would show it."""
        there = {**self.disk, **{name: text.encode() for name, text in self.texts.items()}}
        is_library = CONFIG_NAME in self.disk
        if is_library:
            there[CONFIG_NAME] = self.in_force
        else:
            there.pop(CONFIG_NAME, None)
        for name in there.keys() | self.mirrored.keys():
            if self.mirrored.get(name) != there.get(name):
                _write(self.mirror / name, there.get(name))
        self.mirrored = there
        for folder in ("b", "b/c", "shut"):
            if not (self.folder / folder).exists():
                shutil.rmtree(self.mirror / folder, ignore_errors=True)
            else:
                (self.mirror / folder).mkdir(exist_ok=True)
        found: dict[str, list[Any]] = {}
        checked: set[str] = set()
        for root, owned in self.libraries():
            told = check_paths([root], use_cache=False)
            found = {name: many for name, many in found.items() if not owned(name)}
            found.update(self.by_file(told.told, root, owned))
            checked = {name for name in checked if not owned(name)}
            checked |= {self.name(root, path) for path in told.paths if owned(self.name(root, path))}
        if is_library and not _is_read(self.config):
            broken = self.base / "broken"
            broken.mkdir(exist_ok=True)
            (broken / CONFIG_NAME).write_bytes(self.config)
            help = "the last one that could be read is used until then"
            told = check_paths([broken], use_cache=False)
            fixed = [one._replace(finding=one.finding._replace(help=help)) for one in told.told]
            found[CONFIG_NAME] = self.by_file(fixed, broken)[CONFIG_NAME]
        for name in self.recipes_open:
            if name not in checked:
                path = Path(os.path.normpath(self.mirror / name))
                alone = check_paths([path], use_cache=False)
                found.update(self.by_file(alone.told, alone.root, lambda other, name=name: other == name))
        return found

    def libraries(self) -> Iterator[tuple[Path, Callable[[str], bool]]]:
        """The libraries and folders that are open, by where they are mirrored, with what is theirs; inner ones last."""
        has_inner = INNER in self.disk
        if has_inner and CONFIG_NAME not in self.disk:
            # a folder that is no library leaves out the libraries in it
            shutil.rmtree(self.bare.parent, ignore_errors=True)
            shutil.copytree(self.mirror.parent, self.bare.parent)
            shutil.rmtree(self.bare / "b")
            yield self.bare, lambda name: not name.startswith("../")
        else:
            yield self.mirror, lambda name: not name.startswith("../")
        if has_inner and (CONFIG_NAME not in self.disk or any(name.startswith("b/") for name in self.texts)):
            yield self.mirror / "b", lambda name: name.startswith("b/")
        pantry = self.mirror.parent / "pantry"
        if self.has_two or (SUPPLIER in self.disk and any(name.startswith("../") for name in self.texts)):
            yield pantry, lambda name: name.startswith("../")

    def name(self, root: Path, path: str) -> str:
        """A file of a checked folder as it is called from the library."""
        path = os.path.normpath(root / path)
        base = next((base for base in (self.mirror, self.bare) if Path(path).is_relative_to(base.parent)), root)
        return os.path.relpath(path, base)

    def by_file(self, told: Any, root: Path, owned: Callable[[str], bool] = bool) -> dict[str, list[Any]]:
        found: dict[str, list[Any]] = {}
        for one in told:
            name = self.name(root, one.range.path)
            if owned(name):
                found.setdefault(name, []).append(self.of_check(one, root))
        return {name: sorted(many) for name, many in found.items()}

    def of_check(self, told: LocatedFinding, root: Path) -> Any:
        finding = told.finding
        severity = {ERROR: 1, WARNING: 2}.get(finding.severity, 4)
        related = [(self.name(root, place.path), *self.ends(place, root), message) for place, message in told.related]
        return (*self.ends(told.range, root), finding.rule, severity, message_of(told), related)

    def ends(self, where: Range, root: Path) -> Any:
        try:
            lines = decode((root / where.path).read_bytes()).split("\n")
        except (UnreadableText, FileNotFoundError):
            lines = [""]
        return [(one.line - 1, self.size(lines[one.line - 1][: one.column - 1])) for one in (where.start, where.end)]

    def size(self, text: str) -> int:
        return len(text.encode()) if self.encoding == "utf-8" else len(text.encode("utf-16-le")) // 2


def _is_read(config: bytes) -> bool:
    try:
        tomllib.loads(config.decode())
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        return False
    return True


def _write(path: Path, data: bytes | None) -> None:
    if data is None:
        path.unlink(missing_ok=True)
    else:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
