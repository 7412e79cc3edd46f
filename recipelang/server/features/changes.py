"""Commands that say what a change means: since the last commit, and without a food or a container.

Both answer with a text, and open it as a document that is read only where the client opens documents for the server.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from pygls.exceptions import JsonRpcInvalidParams

from recipelang.server.features._answers import read_whole
from recipelang.server.features._command_arguments import ALL_KINDS, WHERE, Meant, asked_of, meant_by, show

if TYPE_CHECKING:
    from recipelang.server.server import RecipeServer

SINCE_LAST_COMMIT: Final = "recipelang.sinceLastCommit"
"""`[NAME]`, or `[{"name": NAME, "uri": URI, "position": POSITION}]`: what has become of a declaration, and what it
changes. With `{"uri": URI, "all": true}`, of the whole library of a document."""
WITHOUT: Final = "recipelang.without"
"""`[NAME]`, or `[{"name": NAME, "uri": URI, "position": POSITION}]`, of a food, a container or a recipe."""


def register(server: RecipeServer) -> list[tuple[str, Any, Any]]:
    """The commands. They are no requests of their own."""

    async def since(arguments: list[Any]) -> str:
        from recipelang.output.since_commit_text import since_report

        asked = asked_of(SINCE_LAST_COMMIT, (*WHERE, "all"), ("name",), arguments)
        is_whole = asked.pop("all", False) is True
        meant = await _library_or_declaration(server, asked, is_whole)
        found = await server.changes.look(meant.library)
        if found.comparison is None:
            raise JsonRpcInvalidParams(f"there is no commit to compare with: {found.why_not}")
        lines = since_report(found.comparison, None if is_whole else meant.ref)
        title = "all" if is_whole else meant.name
        return show(server, f"since the last commit - {title}", "\n".join(lines) + "\n")

    async def without(arguments: list[Any]) -> str:
        from recipelang.output.cautions import ALLERGEN_CAUTION
        from recipelang.output.without_text import without_lines

        asked = asked_of(WITHOUT, WHERE, ("name",), arguments)
        meant = await meant_by(server, WITHOUT, asked, ALL_KINDS)
        uses = await server.changes.uses(meant.library)
        found = uses.without(meant.ref)
        lines = without_lines([meant.name], found, uses.served_by_itself(meant.ref))
        if any(not one.is_lost for one in found):
            lines += ["", ALLERGEN_CAUTION]
        return show(server, f"without - {meant.name}", "\n".join(lines) + "\n")

    server.on_command(SINCE_LAST_COMMIT, since)
    server.on_command(WITHOUT, without)
    return []


async def _library_or_declaration(server: RecipeServer, asked: dict[str, Any], is_whole: bool) -> Meant:
    if not is_whole:
        return await meant_by(server, SINCE_LAST_COMMIT, asked, ALL_KINDS)
    opened = await read_whole(server, str(asked.get("uri")))
    if opened is None:
        raise JsonRpcInvalidParams(f"no library has the file {asked.get('uri')}")
    return Meant(opened.library, "")
