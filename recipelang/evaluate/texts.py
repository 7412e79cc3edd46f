"""Where declarations come from: what the engine asks of a workspace, or of the pantry, and of nothing else."""

from __future__ import annotations

from typing import Protocol

from recipelang.findings.finding import DeclarationId
from recipelang.model.names import Declared, Ref
from recipelang.syntax.split import Declaration
from recipelang.syntax.tree import Body


class Texts(Protocol):
    """The declarations of a library by what they are called and by where they stand."""

    def declared(self, ref: Ref) -> Declared | None: ...

    def body(self, home: DeclarationId) -> Body: ...

    def declaration(self, home: DeclarationId) -> Declaration | None: ...

    def homes(self, ref: Ref) -> tuple[DeclarationId, ...]: ...

    def also_called(self, ref: Ref) -> tuple[DeclarationId, ...]: ...

    def order(self, path: str) -> tuple[DeclarationId, ...]: ...

    def of_kind(self, kind: str) -> tuple[Ref, ...]: ...

    def mentions(self, name: str) -> tuple[Ref, ...]: ...
