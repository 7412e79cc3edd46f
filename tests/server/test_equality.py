"""Whatever is done to a library, in editors and on disk, what a client shows is what a fresh check says.

A client and its server live through random edits of a library of some twenty files: typing, moving, saving, closing,
opening, files that come and go on disk, configurations that are changed and broken. Between two of these the server may
get all the time it needs, or next to none. What the client then shows of every file, open or not, are the findings of a
check of the same texts, the open ones in place of those on disk.

`RECIPELANG_EQUALITY_STEPS` sets how many steps are taken, others every time; for a night or a release, 17,000: after
some 10,000 of them the findings are compared.
"""

from __future__ import annotations

import os
import random
import shutil
import tempfile
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

from hypothesis import HealthCheck, Phase, note, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule, run_state_machine_as_test

from recipelang.findings.finding import ERROR, WARNING
from recipelang.server.convert import message_of
from recipelang.text.source import UnreadableText, decode, fold_line_ends
from recipelang.workspace.checking import check_paths
from recipelang.workspace.files import CONFIG_NAME
from recipelang.workspace.filing import Range
from recipelang.workspace.report import Told
from tests.properties.edits import MORE, edited_text
from tests.properties.slips import declarations
from tests.server.in_process import PULL, PUSH, InProcess

IS_LONG: Final = "RECIPELANG_EQUALITY_STEPS" in os.environ
STEPS: Final = int(os.environ.get("RECIPELANG_EQUALITY_STEPS", "600"))
STEPS_OF_ONE: Final = 50

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
    "", "# nothing\n", '[library]\nname = "Tidewater"\n', '[library]\nschool-year = "2026-27"\n',
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
SNIPPETS: Final = ("", "", "\n", "x", "½", "🍑", "    ", "(", ",", "//", "\n\n", "recipe ", "1 cup ")
RUBBISH: Final = (b"\xff\xfea\0", b"recipe \xe9\n", b"food a\0\n")


class Library(RuleBasedStateMachine):
    """A library as its author and its disk have it, and a client that shows its findings."""

    steps_taken = 0

    def __init__(self) -> None:
        super().__init__()
        self.base = Path(tempfile.mkdtemp(prefix="recipelang-"))
        self.folder = self.base / "real" / "library"
        self.mirror = self.base / "mirror" / "library"
        self.bare = self.base / "bare" / "library"
        self.disk: dict[str, bytes] = {}
        self.texts: dict[str, str] = {}
        """What stands in the editor."""
        self.mirrored: dict[str, bytes] = {}
        self.in_force = b""
        self.seen_config: bytes | None = None
        """The configuration on disk that the server knows: one that nobody tells of is only seen now and then."""
        self.client: InProcess | None = None

    @initialize(
        seed=st.integers(0, 10_000), kind=st.sampled_from((PUSH, PULL)), encoding=st.sampled_from(("utf-16", "utf-8")),
        is_told=st.booleans(), config=st.sampled_from((None, *CONFIGS)), has_two=st.booleans(),
    )  # fmt: skip
    def begin(self, seed: int, kind: str, encoding: str, is_told: bool, config: str | None, has_two: bool) -> None:
        chance = random.Random(seed)
        for folder in ("b/c", "shut", "../pantry"):
            (self.folder / folder).mkdir(parents=True)
            (self.mirror / folder).mkdir(parents=True)
        texts: dict[str, str] = dict.fromkeys(FILES[: chance.randint(1, len(FILES))], "")
        every = [*declarations().values(), *chance.sample((*MORE, *WRITTEN), 8)]
        chance.shuffle(every)
        for text in every:
            texts[chance.choice([*texts])] += text
        for name, text in texts.items():
            self.put(name, chance.choice((text, text, text.replace("\n", "\r\n"))).encode())
        if config is not None:
            self.put(CONFIG_NAME, config.encode())
        self.encoding = encoding
        self.has_two = has_two
        folders = [self.folder, self.folder.parent / "pantry"][: 1 + has_two]
        self.client = InProcess(folders, kind, encoding, is_told)
        self.finish(0)

    def teardown(self) -> None:
        if self.client is not None:
            self.compare()
            self.client.close()
        shutil.rmtree(self.base)

    # ---- the editor ----

    @rule(data=st.data(), name=st.sampled_from((*FILES, CONFIG_NAME)), pause=st.integers(-9, 9))
    def open(self, data: st.DataObject, name: str, pause: int) -> None:
        if name in self.texts:
            return self.type(data, name, pause)
        if not (self.folder / name).parent.exists():
            return None
        try:
            decode(self.disk.get(name, b""))
        except UnreadableText:
            return None
        text = self.disk.get(name, b"").decode()
        self.texts[name] = text
        self.editor.did_open(name, text)
        return self.finish(pause)

    @precondition(lambda self: self.texts)
    @rule(data=st.data(), pause=st.integers(-9, 9))
    def type_into_one(self, data: st.DataObject, pause: int) -> None:
        self.type(data, data.draw(st.sampled_from(sorted(self.texts))), pause)

    def type(self, data: st.DataObject, name: str, pause: int) -> None:
        self.change(name, self.edit(data, name, self.texts[name]))
        self.finish(pause)

    @precondition(lambda self: self.texts)
    @rule(data=st.data(), pause=st.integers(-9, 9))
    def type_letters(self, data: st.DataObject, pause: int) -> None:
        name = data.draw(st.sampled_from(sorted(self.texts)))
        text = self.texts[name]
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.sampled_from((0, 0, 1, 1, 2, 5, 40))))
        self.change(name, text[:start] + data.draw(st.sampled_from(SNIPPETS)) + text[end:])
        self.finish(pause)

    @precondition(lambda self: len(self.recipes_open) > 1)
    @rule(data=st.data(), pause=st.integers(-9, 9))
    def move(self, data: st.DataObject, pause: int) -> None:
        """Cuts some lines out of one open file, and pastes them into another."""
        first, second = data.draw(st.permutations(self.recipes_open))[:2]
        lines = self.texts[first].splitlines(keepends=True)
        start = data.draw(st.integers(0, len(lines)))
        end = start + data.draw(st.integers(0, 12))
        into = self.texts[second].splitlines(keepends=True)
        at = data.draw(st.integers(0, len(into)))
        self.change(first, "".join(lines[:start] + lines[end:]))
        self.change(second, "".join(into[:at] + lines[start:end] + into[at:]))
        self.finish(pause)

    @precondition(lambda self: self.texts)
    @rule(data=st.data(), pause=st.integers(-9, 9))
    def save(self, data: st.DataObject, pause: int) -> None:
        name = data.draw(st.sampled_from(sorted(self.texts)))
        self.put(name, self.texts[name].encode())
        self.told(name)
        self.finish(pause)

    @precondition(lambda self: self.texts)
    @rule(data=st.data(), pause=st.integers(-9, 9))
    def close(self, data: st.DataObject, pause: int) -> None:
        name = data.draw(st.sampled_from(sorted(self.texts)))
        del self.texts[name]
        self.editor.did_close(name)
        self.finish(pause)

    # ---- the disk ----

    @rule(data=st.data(), name=st.sampled_from(FILES), pause=st.integers(-9, 9))
    def write(self, data: st.DataObject, name: str, pause: int) -> None:
        try:
            old = decode(self.disk.get(name, b""))
        except UnreadableText:
            old = ""
        self.put(name, self.edit(data, name, old).encode())
        self.told(name)
        self.finish(pause)

    @rule(name=st.sampled_from(FILES), data=st.sampled_from(RUBBISH), pause=st.integers(-9, 9))
    def write_rubbish(self, name: str, data: bytes, pause: int) -> None:
        self.put(name, data)
        self.told(name)
        self.finish(pause)

    @rule(name=st.sampled_from(FILES), pause=st.integers(-9, 9))
    def delete(self, name: str, pause: int) -> None:
        self.put(name, None)
        self.told(name)
        self.finish(pause)

    @rule(old=st.sampled_from(FILES), new=st.sampled_from(FILES), is_first=st.booleans(), pause=st.integers(-9, 9))
    def rename(self, old: str, new: str, is_first: bool, pause: int) -> None:
        if old == new or old not in self.disk:
            return
        data = self.disk[old]
        self.put(old, None)
        self.put(new, data)
        self.told(*((old, new) if is_first else (new, old)))
        self.finish(pause)

    @rule(name=st.sampled_from(FILES), between=st.integers(0, 9), pause=st.integers(-9, 9))
    def delete_and_create(self, name: str, between: int, pause: int) -> None:
        """Saves as some editors do."""
        data = self.disk.get(name)
        self.put(name, None)
        self.told(name)
        self.editor.work(between)
        self.put(name, data)
        self.told(name, name)
        self.finish(pause)

    @precondition(lambda self: self.editor.is_told)
    @rule(folder=st.sampled_from(("b", "b/c", "shut")), is_gone=st.booleans(), pause=st.integers(-9, 9))
    def delete_folder(self, folder: str, is_gone: bool, pause: int) -> None:
        for name in (*FILES, INNER):
            if name.startswith(f"{folder}/"):
                self.put(name, None)
        if is_gone and not any(name.startswith(f"{folder}/") for name in self.texts):
            shutil.rmtree(self.folder / folder, ignore_errors=True)
        self.told(folder)
        self.finish(pause)

    # ---- the configuration ----

    @rule(text=st.sampled_from((*CONFIGS, *CONFIGS, *BROKEN)), pause=st.integers(-9, 9))
    def write_config(self, text: str, pause: int) -> None:
        self.put(CONFIG_NAME, text.encode())
        self.told(CONFIG_NAME)
        self.finish(pause)

    @precondition(lambda self: CONFIG_NAME in self.texts)
    @rule(text=st.sampled_from((*CONFIGS, *CONFIGS, *BROKEN)), pause=st.integers(-9, 9))
    def type_config(self, text: str, pause: int) -> None:
        self.change(CONFIG_NAME, text)
        self.finish(pause)

    @rule(pause=st.integers(-9, 9))
    def delete_config(self, pause: int) -> None:
        self.put(CONFIG_NAME, None)
        self.told(CONFIG_NAME)
        self.finish(pause)

    @rule(
        name=st.sampled_from((INNER, SUPPLIER)), text=st.sampled_from((None, *OTHER_CONFIGS)), pause=st.integers(-9, 9)
    )
    def write_other_config(self, name: str, text: str | None, pause: int) -> None:
        if not (self.folder / name).parent.exists():
            return
        self.put(name, None if text is None else text.encode())
        self.told(name)
        self.finish(pause if self.editor.is_told else 0)

    # ---- what is done ----

    @property
    def editor(self) -> InProcess:
        assert self.client is not None
        return self.client

    @property
    def recipes_open(self) -> list[str]:
        return sorted(self.texts.keys() - {CONFIG_NAME})

    def edit(self, data: st.DataObject, name: str, text: str) -> str:
        if name == CONFIG_NAME:
            return data.draw(st.sampled_from((*CONFIGS, *BROKEN)))
        new = data.draw(edited_text(fold_line_ends(text)))
        return new.replace("\n", "\r\n") if "\r\n" in text else new

    def put(self, name: str, data: bytes | None) -> None:
        """Writes a file, or takes it away."""
        _write(self.folder / name, data)
        if data is None:
            self.disk.pop(name, None)
        else:
            self.disk[name] = data

    def told(self, *names: str) -> None:
        """Has the client tell of what has happened on disk."""
        self.editor.changed_on_disk(*names)
        if self.editor.is_told:
            self.seen_config = self.disk.get(CONFIG_NAME)
        self.note_config()

    def change(self, name: str, text: str) -> None:
        """Edits an open file, by the least stretch that has changed."""
        old = self.texts[name]
        self.texts[name] = text
        start = _common(old, text)
        if old[start - 1 : start] == "\r":
            start -= 1
        most = min(len(old), len(text)) - start
        same = _common(old[::-1], text[::-1])
        same = min(same, most)
        if same and old[len(old) - same] == "\n":  # between its halves there is no place
            same -= 1
        where = {"start": self.position(old, start), "end": self.position(old, len(old) - same)}
        self.editor.did_change(name, [{"range": where, "text": text[start : len(text) - same]}])
        self.note_config()

    def position(self, text: str, offset: int) -> dict[str, int]:
        head = text[:offset].replace("\r\n", "\n").replace("\r", "\n")
        return {"line": head.count("\n"), "character": self.size(head.rpartition("\n")[2])}

    def size(self, text: str) -> int:
        return len(text.encode()) if self.encoding == "utf-8" else len(text.encode("utf-16-le")) // 2

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

    # ---- the comparison ----

    def finish(self, pause: int) -> None:
        """Gives the server some time, or all that it needs and looks at the result."""
        self.note_config()
        if pause > 0 and self.seen_config == self.disk.get(CONFIG_NAME):
            self.editor.work(pause)
        else:
            self.compare()

    def compare(self) -> None:
        self.editor.settle()
        self.seen_config = self.disk.get(CONFIG_NAME)
        type(self).steps_taken += 1
        shown = {
            self.editor.name(uri): sorted(map(self.of_client, found))
            for uri, found in self.editor.shown.items()
            if found
        }
        expected = self.expected()
        wrong = {name for name in shown.keys() | expected.keys() if shown.get(name) != expected.get(name)}
        for name in sorted(wrong):
            ours, theirs = shown.get(name, []), expected.get(name, [])
            note(f"{name} shows, and should not: {[one for one in ours if one not in theirs]}")
            note(f"{name} should show: {[one for one in theirs if one not in ours]}")
        assert not wrong

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
            mend = "the last one that could be read is used until then"
            told = check_paths([broken], use_cache=False)
            mended = [one._replace(finding=one.finding._replace(mend=mend)) for one in told.told]
            found[CONFIG_NAME] = self.by_file(mended, broken)[CONFIG_NAME]
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

    def of_check(self, told: Told, root: Path) -> Any:
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

    def of_client(self, diagnostic: dict[str, Any]) -> Any:
        related = [
            (self.editor.name(one["location"]["uri"]), *_ends(one["location"]["range"]), one["message"])
            for one in diagnostic.get("relatedInformation") or ()
        ]
        severity, message = diagnostic["severity"], diagnostic["message"]
        return (*_ends(diagnostic["range"]), diagnostic["code"], severity, message, related)


def _ends(where: dict[str, Any]) -> Any:
    return [(where[end]["line"], where[end]["character"]) for end in ("start", "end")]


def _common(one: str, other: str) -> int:
    """How many letters two texts begin with alike."""
    return next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))


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


def test_what_is_shown_is_what_a_fresh_check_says() -> None:
    Library.steps_taken = 0
    run_state_machine_as_test(
        Library,
        settings=settings(
            max_examples=max(1, STEPS // STEPS_OF_ONE), stateful_step_count=STEPS_OF_ONE, deadline=None,
            suppress_health_check=list(HealthCheck), phases=(Phase.generate,) if IS_LONG else (Phase.generate, Phase.shrink),
            derandomize=not IS_LONG,
        ),
    )  # fmt: skip
    print(f"{Library.steps_taken} comparisons")
