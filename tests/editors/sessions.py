"""Real editors, started without a screen: each is set up as its README in editors/ says, drives itself through a script in
clients/, and writes down what it saw.

An editor that is not installed is named in a warning, with the way to install it. .ci/run installs them where it may, and then
sets RECIPELANG_EDITORS to `required`, which makes a missing one a failure.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any, Final

from tests.architecture.project import ROOT
from tests.editors.library import BEGUN, FOOD, NEW_NAME, SLIP

CLIENTS: Final = Path(__file__).parent / "clients"
PATIENCE_MS: Final = 60_000
"""How long a step may take before the session ends there; none is waited for longer than it takes."""
ALE: Final = Path("/usr/share/vim-ale")
ELPA: Final = Path("/usr/share/emacs/site-lisp/elpa")
NEEDS: Final[dict[str, dict[str | Path, str]]] = {
    "nvim": {"nvim": 'pip install -e ".[test]" on Linux x86-64'},
    "emacs-eglot": {"emacs": "apt-get install emacs-nox", ELPA / "eglot-*": "apt-get install elpa-eglot"},
    "emacs-lsp-mode": {"emacs": "apt-get install emacs-nox", ELPA / "lsp-mode-*": "apt-get install elpa-lsp-mode"},
    "vim-ale": {"vim": "apt-get install vim", ALE: "apt-get install vim-ale"},
}
"""Programs and folders that a session needs, and how to get them on Debian."""
SEARCHED: Final = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"


def missing(session: str) -> list[str]:
    """What must be done before a session can be held; nothing where all is there."""
    return [how for need, how in NEEDS[session].items() if not _is_here(need)]


def _is_here(need: str | Path) -> bool:
    return bool(shutil.which(need, path=SEARCHED) if isinstance(need, str) else list(need.parent.glob(need.name)))


def program(name: str) -> str:
    found = shutil.which(name, path=SEARCHED)
    assert found, f"{name} is not installed"
    return found


def from_readme(editor: str, language: str, number: int = 0) -> str:
    """A block of settings from an editor's README, pointing at this copy of the project."""
    text = (ROOT / "editors" / editor / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(rf"^ *```{language}\n(.*?)^ *```", text, re.MULTILINE | re.DOTALL)
    return str(blocks[number]).replace("~/recipelang", str(ROOT))


def drive(arguments: list[str], library: Path, home: Path, seconds: float = 180) -> dict[str, Any]:
    """Starts an editor in a library and gives what its script wrote down, with what it printed under `printed`."""
    results = home / "results.json"
    environment = {
        **{name: value for name, value in os.environ.items() if not name.startswith("XDG_")},
        "PATH": SEARCHED,
        "HOME": str(home),
        "LIBRARY": str(library),
        "RESULTS": str(results),
        "PATIENCE": str(PATIENCE_MS),
        "SLIP": SLIP,
        "FOOD": FOOD,
        "NEW_NAME": NEW_NAME,
        "BEGUN": BEGUN,
    }
    try:
        done = subprocess.run(
            arguments, cwd=library, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, timeout=seconds, check=False,
        )  # fmt: skip
        printed = done.stdout
    except subprocess.TimeoutExpired as error:
        printed = (error.output or b"") + f"\nstopped after {seconds} s".encode()
    found: dict[str, Any] = json.loads(results.read_text(encoding="utf-8")) if results.exists() else {}
    found["printed"] = printed.decode("utf-8", "replace")[-4000:]
    return found
