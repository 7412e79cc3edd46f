"""Whatever is done to a library, in editors and on disk, what a client shows is what a fresh check says.

A client and its server live through random edits of a library of some twenty files: typing, moving, saving, closing,
opening, files that come and go on disk, configurations that are changed and broken. Between two of these the server may
get all the time it needs, or next to none. What the client then shows of every file, open or not, are the findings of a
check of the same texts, the open ones in place of those on disk.

`RECIPELANG_EQUALITY_STEPS` sets how many steps are taken, others every time; for a night or a release, 20,000: after
every other one the findings are compared.
"""

from __future__ import annotations

import os
import random
import shutil
from typing import Any, Final

from hypothesis import HealthCheck, Phase, note, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule, run_state_machine_as_test

from recipelang.text.source import UnreadableText, decode, fold_line_ends
from recipelang.workspace.files import CONFIG_NAME
from tests.properties.edits import MORE, edited_text
from tests.properties.slips import declarations
from tests.server.copied import BROKEN, CONFIGS, FILES, INNER, OTHER_CONFIGS, SUPPLIER, WRITTEN, Copied
from tests.server.in_process import PULL, PUSH, InProcess

IS_LONG: Final = "RECIPELANG_EQUALITY_STEPS" in os.environ
STEPS: Final = int(os.environ.get("RECIPELANG_EQUALITY_STEPS", "600"))
STEPS_OF_ONE: Final = 50

SNIPPETS: Final = ("", "", "\n", "x", "½", "🍑", "    ", "(", ",", "//", "\n\n", "recipe ", "1 cup ")
RUBBISH: Final = (b"\xff\xfea\0", b"recipe \xe9\n", b"food a\0\n")


class Library(Copied, RuleBasedStateMachine):
    """A library as its author and its disk have it, and a client that shows its findings."""

    steps_taken = 0

    def __init__(self) -> None:
        Copied.__init__(self)
        RuleBasedStateMachine.__init__(self)
        self.seen_config: bytes | None = None
        """The configuration on disk that the server knows: one that nobody tells of is only seen now and then."""
        self.client: InProcess | None = None
        self.failures: list[BaseException] = []

    @initialize(
        seed=st.integers(0, 10_000), kind=st.sampled_from((PUSH, PULL)), encoding=st.sampled_from(("utf-16", "utf-8")),
        is_told=st.booleans(), config=st.sampled_from((None, *CONFIGS)), has_two=st.booleans(),
    )  # fmt: skip
    def begin(self, seed: int, kind: str, encoding: str, is_told: bool, config: str | None, has_two: bool) -> None:
        chance = random.Random(seed)
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
        self.client.server.failed = lambda what, error, where="": self.failures.append(error)  # type: ignore[method-assign]
        self.finish(0)

    def teardown(self) -> None:
        if self.client is not None:
            self.compare()
            self.client.close()
        self.remove()

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
        assert not self.failures
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
