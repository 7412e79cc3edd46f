"""Which declarations have a name in their text: who may use a recipe, without reading them all.

Whoever has a name in their text may use it; whether they do, their model says. The index is made when somebody first asks,
which hardly any library does: only a recipe that leaves something open asks who takes it on.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from recipelang.findings.finding import DeclarationId
from recipelang.syntax.split import Declaration, fold

_WORD: Final = re.compile(r"\w+")
USERS: Final = frozenset({"recipe", "variation", "menu"})
"""What may use a recipe."""


def has_name(declaration: Declaration, name: str) -> bool:
    """Whether a declaration has a folded name in its text, whole words in one piece."""
    return declaration.kind in USERS and is_in(name, fold(declaration.text))


def is_in(name: str, text: str) -> bool:
    """Whether a folded name is in a folded text, whole words in one piece."""
    at = text.find(name)
    while at >= 0:
        end = at + len(name)
        if not (text[at - 1 : at].isalnum() and name[0].isalnum()) and not (
            text[end : end + 1].isalnum() and name[-1].isalnum()
        ):
            return True
        at = text.find(name, at + 1)
    return False


class MentionIndex:
    """For each word the declarations that have it in their text, and perhaps some that had it once."""

    def __init__(self) -> None:
        self._homes: dict[str, dict[DeclarationId, None]] | None = None

    @property
    def is_made(self) -> bool:
        return self._homes is not None

    def make(self, declarations: Iterable[tuple[DeclarationId, Declaration]]) -> None:
        """Makes the index of a whole library."""
        self._homes = {}
        for home, declaration in declarations:
            self.add(home, declaration)

    def add(self, home: DeclarationId, declaration: Declaration) -> None:
        """Notes the words of a declaration that is new, or says something else."""
        if self._homes is None or declaration.kind not in USERS:
            return
        for word in set(_WORD.findall(fold(declaration.text))):
            self._homes.setdefault(word, {})[home] = None

    def having(
        self, name: str, declaration_at: Callable[[DeclarationId], Declaration | None]
    ) -> Iterable[DeclarationId]:
        """The declarations that have a folded name in their text."""
        homes = self._homes or {}
        words = _WORD.findall(name)
        nowhere: dict[DeclarationId, None] = {}
        for home in min((homes.get(word, nowhere) for word in words), key=len, default=nowhere):
            declaration = declaration_at(home)
            if declaration is not None and has_name(declaration, name):
                yield home
