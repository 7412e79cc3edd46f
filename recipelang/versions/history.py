"""What declarations were over the commits of a branch: of one, the commits that made it something else; of a library, how
much each commit changed.

First parents only, so that a merge is one step. A name is followed backward through renames before anything is evaluated,
and nothing is evaluated where all that a declaration rests on says what it said before.
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.versions.comparison import Comparison
from recipelang.versions.inventory import ALL_OF, USERS_OF, Inventory, changed_refs
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.packing import Outcome
from recipelang.versions.renames import Renames, renamed, renames
from recipelang.versions.sources import Reader, Version
from recipelang.workspace.config import Config, read_config
from recipelang.workspace.files import SUFFIX
from recipelang.workspace.git import Commit, Step


class Span(Record):
    """The commits that are asked for."""

    base: Version
    """The library before the first of them."""
    steps: tuple[Step, ...]
    is_cut: bool
    """Whether older commits are not in this clone."""


class Moment(Record):
    """The library before and after a commit."""

    commit: Commit
    older: Version
    newer: Version


def span(reader: Reader, older: str, newer: str) -> Span:
    """The commits after one up to another, by their ids; from the beginning where `older` is empty. Raises GitError."""
    repository = reader.repository
    # a folder to include may lie elsewhere in the repository: then every commit may touch the library
    paths = [repository.prefix] if repository.prefix and not read_config(reader.root).include else []
    commits = repository.commits(older, newer, paths)
    steps = tuple(repository.steps(commits, paths))
    boundary = repository.boundary() if repository.is_shallow else frozenset()
    is_cut = bool(steps) and steps[0].commit.id in boundary
    if older:
        base = reader.commit(older)
    elif is_cut:
        base = reader.commit(steps[0].commit.id)  # what it changed can't be told: it is where this clone begins
        steps = steps[1:]
    else:
        base = Version("nothing", (), Inventory(), Config())
    reader.read(one for step in steps for path, one in step.changes if one is not None and path.endswith(SUFFIX))
    return Span(base, steps, is_cut)


def moments(reader: Reader, asked: Span) -> Iterator[Moment]:
    """The library before and after each commit that touches it."""
    older = asked.base
    for step in asked.steps:
        newer = reader.after(older, step)
        if newer.inventory is not older.inventory or newer.settings != older.settings:
            yield Moment(step.commit, older, newer)
        older = newer


# ---- one declaration -------------------------------------------------------------------------------------------------


class Row(Record):
    """A commit that made a declaration something else."""

    commit: Commit
    ref: Ref
    """What it is called after the commit."""
    comparison: Comparison
    outcome: Outcome | None
    """What it is then; None where it is gone."""


class Past(Record):
    """A declaration over the commits of a span."""

    names: dict[str, Ref]
    """By commit what it was called after it."""
    first: Ref
    """What it was called before the first of them."""


def past_names(reader: Reader, asked: Span, ref: Ref) -> Past | None:
    """What a declaration that is called so at the end, or was when it was last there, used to be called; None where no
    version has it."""
    found: list[tuple[str, Renames]] = []
    last = -1
    if ref in asked.base.inventory.held:
        last = 0
    for number, moment in enumerate(moments(reader, asked), 1):
        older, newer = moment.older.inventory, moment.newer.inventory
        found.append((moment.commit.id, _renames(older, newer)))
        if ref in newer.held:
            last = number
    if last == -1:
        return None
    names: dict[str, Ref] = {}
    for number in range(len(found), 0, -1):
        commit, made = found[number - 1]
        names[commit] = ref
        if number <= last:
            ref = next((one.older for one in made.followed if one.newer == ref), ref)
    return Past(names, ref)


def _renames(older: Inventory, newer: Inventory) -> Renames:
    """The renames of a commit; most commits take no name away, and are passed over."""
    if older.held.keys() <= newer.held.keys():
        return Renames()
    return renames(older, newer)


def history_of(reader: Reader, asked: Span, ref: Ref, outcomes: Outcomes, everything: bool = False) -> Iterator[Row]:
    """The commits that made a declaration something else, oldest first; with `everything` also those that changed its
    text and nothing that is computed. Nothing where no version has the name."""
    past = past_names(reader, asked, ref)
    if past is None:
        return
    name = past.first
    trace = outcomes.trace(asked.base, asked.base.inventory, name)
    for moment in moments(reader, asked):
        older, newer = moment.older, moment.newer
        before, name = name, past.names[moment.commit.id]
        is_same = before == name and older.settings == newer.settings
        if is_same and trace is not None and trace.fits(newer.inventory):
            continue
        now = outcomes.trace(newer, newer.inventory, name)
        is_other = (trace.key if trace is not None else b"") != (now.key if now is not None else b"")
        is_edited = before != name or older.inventory.digest(before) != newer.inventory.digest(name)
        if is_other or before != name or (everything and is_edited):
            made = Comparison.of(older, newer, outcomes, frozenset({name}))
            came_or_went = now is None or trace is None or before != name
            if came_or_went or everything or any(one.ref == name for one in made.effects):
                yield Row(moment.commit, name, made, None if now is None else outcomes.traces.outcome(now))
        trace = now


# ---- a library -------------------------------------------------------------------------------------------------------


class LibraryRow(Record):
    """A commit and how much of the library it made something else."""

    commit: Commit
    edited: int
    """Declarations whose text says something else."""
    others: tuple[Ref, ...]
    """Declarations that are something else, their own text or not."""
    older: Version
    newer: Version
    comparison: Comparison | None
    """What differs, where that is asked for."""


def history_of_library(reader: Reader, asked: Span, outcomes: Outcomes, details: bool) -> Iterator[LibraryRow]:
    """The commits that changed what a library is, oldest first. What rests on nothing that a commit changed is not even
    looked up."""
    walk = _Walk(asked.base, outcomes)
    for moment in moments(reader, asked):
        others, edited = walk.step(moment)
        if others or edited:
            made = Comparison.of(moment.older, moment.newer, outcomes, others) if details else None
            yield LibraryRow(moment.commit, edited, tuple(sorted(others)), moment.older, moment.newer, made)


class _Walk:
    """What every declaration is at one commit, and who rests on whom."""

    def __init__(self, base: Version, outcomes: Outcomes) -> None:
        self._outcomes = outcomes
        self._keys: dict[Ref, bytes] = {}
        self._reads: dict[Ref, tuple[str, ...]] = {}
        self._readers: dict[str, set[Ref]] = {}
        for ref in base.inventory.held:
            self._look(base, ref)

    def step(self, moment: Moment) -> tuple[frozenset[Ref], int]:
        """Goes on by a commit: the declarations that it made something else, and how many it edited."""
        older, newer = moment.older, moment.newer
        changed = changed_refs(older.inventory, newer.inventory)
        touched: set[Ref] = set(changed)
        if older.settings != newer.settings:
            touched.update(newer.inventory.held)
        mentioned = [
            name for name in self._readers if name.startswith(USERS_OF) and _has_other_users(name, older, newer)
        ]
        for name in [*changed, *(f"{ALL_OF}{kind}" for kind in _kinds(changed, older, newer)), *mentioned]:
            touched |= self._readers.get(name, set())
        others = {ref for ref in touched if self._look(newer, ref)}
        made = _renames(older.inventory, newer.inventory)
        if made.followed:
            changed, others = self._renamed(moment, made, others)
        return frozenset(others), sum(ref in newer.inventory.held or ref in older.inventory.held for ref in changed)

    def _renamed(self, moment: Moment, made: Renames, others: set[Ref]) -> tuple[list[Ref], set[Ref]]:
        """What a commit edited and made something else, once the version before it is read under the newer names."""
        older, newer = moment.older, moment.newer
        before, _ = renamed(older.inventory, newer.inventory, made)
        gone = {one.older for one in made.followed}
        left: set[Ref] = set()
        for ref in others - gone:
            trace = self._outcomes.trace(older, before, ref)
            if (b"" if trace is None else trace.key) != self._keys.get(ref, b""):
                left.add(ref)
        return changed_refs(before, newer.inventory), left

    def _look(self, version: Version, ref: Ref) -> bool:
        """Finds out what a declaration is; whether that is something else than before."""
        trace = self._outcomes.trace(version, version.inventory, ref)
        reads = () if trace is None else trace.reads
        known = self._reads.get(ref, ())
        if reads is not known:
            for name in known:
                self._readers[name].discard(ref)
            for name in reads:
                self._readers.setdefault(name, set()).add(ref)
            self._reads[ref] = reads
        key = b"" if trace is None else trace.key
        before = self._keys.get(ref, b"")
        self._keys[ref] = key
        return key != before


def _has_other_users(name: str, older: Version, newer: Version) -> bool:
    return older.inventory.digest(name) != newer.inventory.digest(name)


def _kinds(changed: list[Ref], older: Version, newer: Version) -> set[str]:
    """The kinds of which there are others than before, or say something else."""
    found: set[str] = set()
    for ref in changed:
        held = newer.inventory.held.get(ref) or older.inventory.held.get(ref)
        if held:
            found.add(held[0].piece.kind)
    return found


__all__ = ["LibraryRow", "Row", "Span", "history_of", "history_of_library", "past_names", "span"]
