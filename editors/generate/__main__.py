"""Writes every generated file, or with `--check` names those that are not what the grammar gives."""

from __future__ import annotations

import sys

from editors.generate.files import FOLDER, files


def main(arguments: list[str]) -> int:
    stale = [name for name, text in files() if _current(name) != text]
    for name, text in files():
        if name in stale and "--check" not in arguments:
            (FOLDER / name).write_text(text, encoding="utf-8")
    for name in stale:
        print(f"editors/{name}")
    return 1 if stale and "--check" in arguments else 0


def _current(name: str) -> str:
    path = FOLDER / name
    return path.read_text(encoding="utf-8") if path.exists() else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
