"""What findings rest on.

Facts about one thing (a recipe, a food, a serving of a menu) are one node. A node knows the inputs that it reads itself
(what a name means, what a declaration says) and the nodes that it is made from; what it rests on however far down is the
closure, taken once for a question about many, never once for each. Findings of a declaration are a node of their own.

Inputs and nodes are texts, so that the cache can keep them. Knows nothing of what any of them means.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from sys import intern
from typing import TYPE_CHECKING, Any, Final

from recipelang.findings.finding import DeclarationId
from recipelang.text.record import Record

if TYPE_CHECKING:
    from recipelang.evaluate.facts import Entry, Facts
    from recipelang.model.names import Ref

ALWAYS: Final = "!"
"""An input that never holds: what rests on it is looked at again every time."""


class Node(Record):
    """What the facts about one thing read: inputs, and other nodes."""

    inputs: tuple[str, ...]
    made_from: tuple[str, ...]


NOTHING: Final = Node((), ())

# ---- inputs and nodes by name ----------------------------------------------------------------------------------------


def reads_name(ref: Ref) -> str:
    """The dependency on what a name means."""
    return f"n {ref}"


def reads_kind(kind: str) -> str:
    """The dependency on which menus, or which calendars, there are."""
    return f"k {kind}"


def reads_users(name: str, users: Iterable[Ref]) -> str:
    """The dependency on who has a name in their text, with who they are."""
    return "\n".join((f"u {name}", *users))


def users_read(read: str) -> tuple[str, list[Ref]] | None:
    """The name and the users of such a dependency; None for another."""
    if not read.startswith("u "):
        return None
    name, *users = read[2:].split("\n")
    return name, users


def reads_text(home: DeclarationId) -> str:
    """The dependency on what a declaration says."""
    return f"t {home.path} {home.key} {home.nth}"


def findings_node(ref: Ref) -> str:
    """The node of the findings of what a name means."""
    return f"c {ref}"


def _node(entry: Entry) -> str:
    from recipelang.rules.engine import check_of, found_by

    key = entry.key
    if entry.fact is check_of:
        return findings_node(key)
    if entry.fact is found_by:
        return findings_node(key[1])
    if key is None:
        return f"f {entry.fact.__name__}"
    if isinstance(key, str):
        return f"r {key}"
    if isinstance(key, DeclarationId):
        return reads_text(key)
    return f"s {key!r}"


class Inputs:
    """Names the inputs among the facts of one library. `is_misspelled` tells whether a name is answered to by a
    declaration whose keyword is misspelled: what such a text means is read anew every time."""

    def __init__(self, misspelled: Mapping[Ref, Any]) -> None:
        from recipelang.evaluate.names import (
            all_of_kind,
            also_called_of,
            homes_of,
            mentions_of,
            own_meaning,
            source_of,
        )
        from recipelang.facts.recipe.circles import marked_circle_of
        from recipelang.facts.recipe.recipe import base_circle_of

        self._misspelled = misspelled
        self._names = {own_meaning.slot, homes_of.slot, also_called_of.slot}
        self._marks = {marked_circle_of.slot, base_circle_of.slot}
        self._kinds = all_of_kind.slot
        self._texts = source_of.slot
        self._users = mentions_of.slot

    def of(self, entry: Entry) -> tuple[str, ...]:
        """The inputs that a fact which reads no other stands for; none where it can never change."""
        slot, key = entry.fact.slot, entry.key
        if slot in self._names:
            return (reads_name(key), ALWAYS) if key in self._misspelled else (reads_name(key),)
        if slot == self._texts:
            return (reads_text(key),)
        if slot == self._kinds:
            return (reads_kind(key),)
        if slot == self._users:
            return (reads_users(key, entry.value),)
        return (ALWAYS,) if slot in self._marks and entry.value is not None else ()


# ---- gathering -------------------------------------------------------------------------------------------------------


def gather(facts: Facts, inputs: Inputs, roots: Iterable[Entry]) -> dict[str, Node]:
    """The nodes that some facts rest on, their own among them. Each is visited once, however many rest on it."""
    found: dict[str, tuple[dict[str, None], dict[str, None]]] = {}
    seen: set[Entry] = set()
    waiting = list(roots)
    names: dict[Entry, str] = {}
    while waiting:
        entry = waiting.pop()
        if entry in seen:
            continue
        seen.add(entry)
        own = names.get(entry) or _node(entry)
        reads, made_from = found.setdefault(own, ({}, {}))
        for read in entry.read:
            if not read.read:
                reads.update(dict.fromkeys(inputs.of(read)))
                continue
            other = names.get(read)
            if other is None:
                other = names[read] = _node(read)
            if other != own:
                made_from[other] = None
            waiting.append(read)
    return {
        intern(name): Node(tuple(map(intern, reads)), tuple(map(intern, made_from)))
        for name, (reads, made_from) in found.items()
    }


# ---- asking ----------------------------------------------------------------------------------------------------------


def touched(nodes: Mapping[str, Node], changed: set[str]) -> set[str]:
    """The nodes that rest on changed inputs, however far down."""
    found: set[str] = set()
    users: dict[str, list[str]] = {}
    for name, node in nodes.items():
        for other in node.made_from:
            users.setdefault(other, []).append(name)
        if not changed.isdisjoint(node.inputs):
            found.add(name)
    waiting = list(found)
    while waiting:
        for user in users.get(waiting.pop(), ()):
            if user not in found:
                found.add(user)
                waiting.append(user)
    return found


def reached(nodes: Mapping[str, Node], roots: Iterable[str]) -> set[str]:
    """The nodes that some nodes are made from, however far down, themselves among them."""
    found: set[str] = set()
    waiting = list(roots)
    while waiting:
        name = waiting.pop()
        if name not in found and name in nodes:
            found.add(name)
            waiting.extend(nodes[name].made_from)
    return found


def merged(old: Mapping[str, Node], new: Mapping[str, Node], outdated: set[str]) -> dict[str, Node]:
    """What is known of nodes from last time and from now. A node that still holds may have been asked for less now than
    it was then, so both count; of one that is outdated only what was read now does."""
    found = {name: node for name, node in old.items() if name not in outdated}
    for name, node in new.items():
        before = found.get(name)
        if before is None or before == node:
            found[name] = node
        else:
            found[name] = Node(
                tuple(dict.fromkeys((*before.inputs, *node.inputs))),
                tuple(dict.fromkeys((*before.made_from, *node.made_from))),
            )
    return found
