"""Real editors at work: what an author sees, does, and has on disk afterwards."""

from __future__ import annotations

import os
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import pytest

from tests.editors.library import BOWL, CUP, FOOD, FOODS, LAID_OUT, NEW_NAME, SLIP, write_library
from tests.editors.sessions import CLIENTS, drive, from_readme, missing, program

RENAMED: Final = {
    "foods.recipe": FOODS.replace(FOOD, NEW_NAME),
    "recipes/bowl.recipe": BOWL.replace(FOOD, NEW_NAME),
    "recipes/cup.recipe": CUP.replace(SLIP, FOOD).replace(FOOD, NEW_NAME),
}


@dataclass(frozen=True, slots=True)
class Held:
    """A session that was held: what its script saw, and the library it left behind."""

    seen: dict[str, Any]
    library: Path

    def saw(self, name: str) -> Any:
        assert name in self.seen, f"{self.seen.get('failed')}\n{self.seen['printed']}"
        return self.seen[name]


def neovim(home: Path) -> list[str]:
    settings = home / "init.lua"
    settings.write_text(from_readme("neovim", "lua"), encoding="utf-8")
    return [program("nvim"), "--headless", "-u", str(settings), "-i", "NONE", "-S", str(CLIENTS / "neovim.lua")]


def emacs(home: Path, client: str, block: int) -> list[str]:
    settings = home / "init.el"
    readme = from_readme("emacs", "elisp") + from_readme("emacs", "elisp", block)
    # outside of a batch Emacs itself makes the installed packages known before it reads the settings
    settings.write_text(f"(package-initialize)\n{readme}", encoding="utf-8")
    return [program("emacs"), "--batch", "-l", str(settings), "-l", str(CLIENTS / client)]


def vim(home: Path) -> list[str]:
    settings = home / "vimrc"
    # what Debian's settings for all users switch on is not read where a file of settings is named
    usual = "set nocompatible\nfiletype plugin indent on\nsyntax on\n"
    settings.write_text(usual + from_readme("vim", "vim"), encoding="utf-8")
    # in Ex mode, silently: Vim then does without a terminal
    return [program("vim"), "-es", "-u", str(settings), "-i", "NONE", "-S", str(CLIENTS / "ale.vim")]


SESSIONS: Final[dict[str, Callable[[Path], list[str]]]] = {
    "nvim": neovim,
    "emacs-eglot": lambda home: emacs(home, "eglot.el", 1),
    "emacs-lsp-mode": lambda home: emacs(home, "lsp-mode.el", 2),
    "vim-ale": vim,
}


@pytest.fixture(scope="module", params=SESSIONS)
def held(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Held:
    name: str = request.param
    lacking = missing(name)
    if lacking:
        how = f"{name} was not tried, it is not installed: {'; '.join(lacking)}"
        if os.environ.get("RECIPELANG_EDITORS") == "required":
            pytest.fail(how)
        warnings.warn(how, stacklevel=1)  # a quiet run counts skipped tests but does not say why
        pytest.skip(how)
    home = tmp_path_factory.mktemp(f"{name}-home")
    library = tmp_path_factory.mktemp(name)
    write_library(library)
    return Held(drive(SESSIONS[name](home), library, home), library)


def test_a_recipe_is_known_and_colored(held: Held) -> None:
    assert held.saw("filetype").removesuffix("-mode") == "recipelang"
    assert held.saw("syntax") in {"recipelangKind", "font-lock-keyword-face"}


def test_a_finding_shows_once(held: Held) -> None:
    found = held.saw("findings")
    assert len(found) == 1
    assert f"is called `{SLIP}`." in found[0]


def test_it_is_mended_by_a_quick_fix_and_goes(held: Held) -> None:
    assert [title for title in held.saw("titles") if f"`{FOOD}`" in title]
    assert held.saw("left") == []


def test_a_food_is_completed(held: Held) -> None:
    assert held.saw("completions")[0] == FOOD


def test_what_is_under_the_cursor_is_explained(held: Held) -> None:
    assert f"{FOOD}: a food of the library" in held.saw("hover")


def test_a_name_leads_to_its_food(held: Held) -> None:
    assert held.saw("definition") == "foods.recipe"


@pytest.mark.parametrize("name", RENAMED)
def test_a_food_is_renamed_in_every_file(held: Held, name: str) -> None:
    held.saw("cup")
    assert (held.library / name).read_text(encoding="utf-8") == RENAMED[name]


def test_a_file_is_laid_out(held: Held) -> None:
    assert held.saw("formatted") == LAID_OUT
    assert (held.library / "recipes/loose.recipe").read_text(encoding="utf-8") == LAID_OUT


def test_the_session_ran_to_its_end(held: Held) -> None:
    assert "failed" not in held.seen, held.seen["failed"]
