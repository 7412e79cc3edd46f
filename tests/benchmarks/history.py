"""A made-up history of a made-up library: hundreds of commits of the kinds that a kitchen makes, the same for the same
seed."""

from __future__ import annotations

import random
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

_FIRST = 1_757_000_000
"""The time of the first commit, in seconds; each later one comes a day after."""


def history(folder: Path, commits: int, seed: int = 5) -> None:
    """Puts the library in a folder under git and adds so many commits."""
    rng = random.Random(seed)
    files = {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(folder.rglob("*"))
        if path.is_file() and ".git" not in path.parts
    }
    subprocess.run(["git", "init", "--quiet", "--initial-branch", "main", str(folder)], check=True)
    stream: list[bytes] = []
    _commit(stream, 0, "the library", files)
    edits: list[Callable[[random.Random, dict[str, str]], dict[str, str]]] = [_price, _label, _amount, _remark, _layout]
    weights = [1, 1, 10, 3, 3]
    for number in range(1, commits):
        (edit,) = rng.choices(edits, weights)
        changed = edit(rng, files)
        files.update(changed)
        _commit(stream, number, edit.__name__.strip("_"), changed)
    subprocess.run(["git", "-C", str(folder), "fast-import", "--quiet"], input=b"".join(stream), check=True)
    subprocess.run(["git", "-C", str(folder), "reset", "--quiet", "--hard", "main"], check=True)


def _commit(stream: list[bytes], number: int, subject: str, changed: dict[str, str]) -> None:
    who = f"central kitchen <kitchen@example.org> {_FIRST + 86400 * number} +0000"
    message = subject.encode()
    stream.append(
        f"commit refs/heads/main\nauthor {who}\ncommitter {who}\ndata {len(message)}\n".encode() + message + b"\n"
    )
    for path, text in changed.items():
        data = text.encode()
        stream.append(f"M 100644 inline {path}\ndata {len(data)}\n".encode() + data + b"\n")


def _price(rng: random.Random, files: dict[str, str]) -> dict[str, str]:
    return {"foods.recipe": _one(rng, files["foods.recipe"], r"price +\S+", f"price         {rng.randint(20, 140)}.50")}


def _label(rng: random.Random, files: dict[str, str]) -> dict[str, str]:
    text = files["foods.recipe"]
    if rng.random() < 0.5:
        return {"foods.recipe": _one(rng, text, r"sodium +\d+", f"sodium            {rng.randint(0, 200)}")}
    contains = rng.choice(("none of the nine", "milk", "soy", "wheat, milk", "egg"))
    return {"foods.recipe": _one(rng, text, r"contains [^\n]+", f"contains {contains}")}


def _amount(rng: random.Random, files: dict[str, str]) -> dict[str, str]:
    path = _dish(rng, files)
    return {path: _one(rng, files[path], r" \d+ oz  ", f" {rng.randint(1, 15)} oz  ")}


def _remark(rng: random.Random, files: dict[str, str]) -> dict[str, str]:
    path = _dish(rng, files)
    return {path: f"// remark {rng.randint(0, 10**6)}\n{files[path]}"}


def _layout(rng: random.Random, files: dict[str, str]) -> dict[str, str]:
    path = _dish(rng, files)
    return {path: files[path].replace("    course        side", "    course " + " " * rng.randint(1, 9) + "side")}


def _dish(rng: random.Random, files: dict[str, str]) -> str:
    return rng.choice([path for path in files if "/dish" in path])


def _one(rng: random.Random, text: str, pattern: str, new: str) -> str:
    """A text with one of the places that fit a pattern written anew."""
    found = list(re.finditer(pattern, text))
    match = rng.choice(found)
    return text[: match.start()] + new + text[match.end() :]
