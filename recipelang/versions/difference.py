"""What one version of a library means beside another: which declarations say something else, and what has become of each
figure and finding, wherever it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping

from recipelang.facts.outcome.values import Value
from recipelang.findings.finding import Finding
from recipelang.model.names import Ref
from recipelang.syntax.split import STRAY
from recipelang.text.record import Record
from recipelang.versions.closure import Mentions
from recipelang.versions.inventory import ASTRAY, Held, Inventory, changed_refs
from recipelang.versions.outcomes import Looks, Outcomes
from recipelang.versions.packing import Outcome
from recipelang.versions.renames import Renames, renamed, renames
from recipelang.versions.sources import Version
from recipelang.workspace.files import CONFIG_NAME

CHANGED = "changed"
ADDED = "added"
REMOVED = "removed"
UNREADABLE = "unreadable"
FILE = "file"
SETTINGS_FILE = "settings"
_DERIVING = "from-"
"""Keys of figures that say where others come from, in words."""


class FigureChange(Record):
    """A figure before and after; None where there was none."""

    name: str
    before: Value | None
    after: Value | None


class DeclarationChange(Record):
    """A declaration that says or is something else."""

    ref: Ref
    kind: str
    name: str
    state: str
    is_edited: bool
    """Whether its own text says something else, rather than what it rests on."""
    was: str
    """Its older name, where it has another."""
    figures: tuple[FigureChange, ...]
    gained: tuple[Finding, ...]
    lost: tuple[Finding, ...]
    unread_before: bool = False
    unread_after: bool = False
    """Whether a line of it can't be read on one side: what it would have said is unknown there."""

    @property
    def is_other(self) -> bool:
        """Whether it is something else: text that changes nothing computed is not that."""
        return bool(self.figures or self.gained or self.lost)


class Counts(Record):
    edited: int
    added: int
    removed: int
    renamed: int
    moved: int
    laid_out: int
    """Those that differ in comments and layout only."""


class Difference(Record):
    older: Version
    newer: Version
    before: Inventory
    """The older version under the newer names."""
    renames: Renames
    changed: tuple[Ref, ...]
    """The names that say something else, under the newer names."""
    declarations: tuple[DeclarationChange, ...]
    """In order of path and place."""
    has_other_settings: bool
    joined: Mapping[Ref, Ref]
    """For declarations that one change touches, the name of that change."""
    outcomes_before: Looks
    outcomes_after: Looks


Wanted = Callable[[str], bool]
"""Whether a path is asked for."""


def difference(
    older: Version, newer: Version, outcomes: Outcomes | None = None, wanted: Wanted | None = None,
    looked_at: frozenset[Ref] | None = None, joined: Mapping[Ref, Ref] | None = None,
) -> Difference:  # fmt: skip
    """What a newer version means beside an older one. `wanted` leaves out declarations by where they stand now;
    `looked_at` names the only ones that may differ, where that is known, or that are asked for; `joined` says which
    declarations one change touches."""
    outcomes = Outcomes() if outcomes is None else outcomes
    before, found = renamed(older.inventory, newer.inventory, renames(older.inventory, newer.inventory))
    after = newer.inventory
    changed = changed_refs(before, after)
    other_settings = older.settings != newer.settings
    unread = [one.newer for one in found.followed if _is_damaged(older.inventory, one.older)]
    if looked_at is None:
        looked_at = frozenset({*_touched(older, before, newer, changed, outcomes, other_settings), *unread})
    wanted_refs = [ref for ref in sorted(looked_at) if _is_wanted(before, after, ref, wanted)]
    outcomes_before = outcomes.all(older, before, wanted_refs)
    outcomes_after = outcomes.all(newer, after, wanted_refs)
    was = {one.newer: _name(older.inventory, one.older) for one in found.followed}
    edited = {*changed, *was}
    made = [
        _change(ref, before, after, outcomes_before.get(ref), outcomes_after.get(ref), ref in edited, was.get(ref, ""))
        for ref in wanted_refs
        if ref in edited or outcomes_before.key(ref) != outcomes_after.key(ref)
        if ref in before.held or ref in after.held
    ]
    kept = [one for one in made if one.is_edited or one.is_other]
    kept += [one for one in _general(older, newer) if wanted is None or wanted(one.name)]
    kept.sort(key=lambda one: place_of(before, after, one.ref))
    return Difference(
        older=older,
        newer=newer,
        before=before,
        renames=found,
        changed=tuple(changed),
        declarations=tuple(kept),
        has_other_settings=other_settings,
        joined=joined or {},
        outcomes_before=outcomes_before,
        outcomes_after=outcomes_after,
    )


def _touched(
    older: Version, before: Inventory, newer: Version, changed: list[Ref], outcomes: Outcomes, everything: bool
) -> set[Ref]:
    """What may differ: of what was looked at before, that of which another outcome is known now or none; of the rest,
    what names something changed, however far down."""
    after = newer.inventory
    if everything:
        return {*before.held, *after.held}
    if not changed:
        return set()
    found: set[Ref] = set(changed)
    unknown: set[Ref] = set()
    for ref in after.held if not outcomes.traces.is_empty(outcomes.settings(older)) else ():
        trace = outcomes.known(older, before, ref)
        if trace is None:
            unknown.add(ref)
        elif not trace.fits(after):
            found.add(ref)
    if outcomes.traces.is_empty(outcomes.settings(older)):
        return Mentions(before, after).closure(changed)
    return Mentions(before, after, only=frozenset(unknown)).closure(found) if unknown else found


def _is_wanted(before: Inventory, after: Inventory, ref: Ref, wanted: Wanted | None) -> bool:
    held = after.held.get(ref) or before.held.get(ref, ())
    own = [one for one in held if not one.is_supplied]
    return bool(own) and (wanted is None or any(wanted(one.path) for one in own))


def place_of(before: Inventory, after: Inventory, ref: Ref) -> tuple[str, int, str]:
    """Where a declaration stands now, or where it stood."""
    found = after.held.get(ref) or before.held.get(ref)
    if not found:
        return ref.removeprefix(ASTRAY), 0, ref
    return found[0].path, found[0].piece.written[0].start, ref


def _name(inventory: Inventory, ref: Ref) -> str:
    return inventory.held[ref][0].piece.name


def _change(
    ref: Ref, before: Inventory, after: Inventory, was: Outcome | None, now: Outcome | None, is_edited: bool, name: str
) -> DeclarationChange:
    held = (after.held.get(ref) or before.held[ref])[0]
    damaged = _is_damaged(before, ref), _is_damaged(after, ref)
    figures: tuple[FigureChange, ...] = ()
    gained, lost = apart(was.findings if was is not None else (), now.findings if now is not None else ())
    if any(damaged):
        state = UNREADABLE
    elif was is None:
        state = ADDED
    elif now is None:
        state = REMOVED
    else:
        state = CHANGED
        figures = tuple(_figures(was, now))
    return DeclarationChange(
        ref=ref,
        kind=STRAY if ref.startswith(ASTRAY) else held.piece.kind,
        name=held.piece.name,
        state=state,
        is_edited=is_edited,
        was=name,
        figures=figures,
        gained=gained,
        lost=lost,
        unread_before=damaged[0] or _is_unread(was),
        unread_after=damaged[1] or _is_unread(now),
    )


def _general(older: Version, newer: Version) -> Iterator[DeclarationChange]:
    """What is found in files as a whole: those that are no text, and the configuration."""
    before, after = dict(older.unreadable), dict(newer.unreadable)
    for path in sorted(before.keys() | after.keys()):
        old, new = (tuple(_unreadable(path, side)) for side in (before, after))
        yield from _of_file(path, FILE, *apart(old, new))
    yield from _of_file(CONFIG_NAME, SETTINGS_FILE, *apart(older.config.problems, newer.config.problems))


def _unreadable(path: str, files: dict[str, str]) -> Iterator[Finding]:
    if path in files:
        from recipelang.workspace.report import unreadable

        yield unreadable(path, files[path])


def _of_file(
    path: str, kind: str, gained: tuple[Finding, ...], lost: tuple[Finding, ...]
) -> Iterator[DeclarationChange]:
    if gained or lost:
        yield DeclarationChange(
            ref=ASTRAY + path,
            kind=kind,
            name=path,
            state=CHANGED,
            is_edited=True,
            was="",
            figures=(),
            gained=gained,
            lost=lost,
        )


def _is_damaged(inventory: Inventory, ref: Ref) -> bool:
    return any(one.piece.damaged for one in inventory.held.get(ref, ()))


def _is_unread(outcome: Outcome | None) -> bool:
    return outcome is not None and any(one.rule == "syntax" for one in outcome.findings)


def _figures(before: Outcome, after: Outcome) -> Iterator[FigureChange]:
    """The figures that differ, in the order in which they are computed."""
    old, new = before.figures, after.figures
    for name in dict.fromkeys((*old, *new)):
        was, now = old.get(name), new.get(name)
        if was != now:
            yield FigureChange(name, was, now)


# ---- findings --------------------------------------------------------------------------------------------------------


def identity(finding: Finding) -> tuple[object, ...]:
    """What makes two findings of a declaration the same: the rule and the figures, or the sentence where it has none."""
    figures = tuple(sorted((one.key, one.value) for one in finding.figures if not one.key.startswith(_DERIVING)))
    return (finding.rule, finding.severity, figures or " ".join(finding.message.split()))


def apart(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """The findings that came, and those that went."""
    old, new = list(before), list(after)
    return tuple(_surplus(new, old)), tuple(_surplus(old, new))


def _surplus(more: list[Finding], less: list[Finding]) -> Iterator[Finding]:
    left = Counter(map(identity, less))
    for one in more:
        key = identity(one)
        if left[key]:
            left[key] -= 1
        else:
            yield one


# ---- counts ----------------------------------------------------------------------------------------------------------


def counts(made: Difference) -> Counts:
    """How much was changed, moved and laid out anew: of the whole library, whatever was asked for."""
    older, before, found, changed = made.older, made.before, made.renames, made.changed
    after = made.newer.inventory
    there = [ref for ref in changed if ref in before.held and ref in after.held]
    was = {one.newer: one.older for one in found.followed}
    same = [ref for ref in before.held.keys() & after.held.keys() if ref not in set(changed)]
    moved = sum(1 for ref in (*same, *there) if _paths(older.inventory, was.get(ref, ref)) != _paths(after, ref))
    laid_out = sum(
        1
        for ref in same
        if older.inventory.digest(ref) == after.digest(ref)
        and _written(older.inventory.held.get(ref, ())) != _written(after.held.get(ref, ()))
    )
    renamed_number = sum(not _is_damaged(older.inventory, one.older) for one in found.followed)
    return Counts(
        len(there), sum(1 for ref in changed if ref not in before.held and ref in after.held),
        sum(1 for ref in changed if ref not in after.held and ref in before.held), renamed_number, moved, laid_out,
    )  # fmt: skip


def _paths(inventory: Inventory, ref: Ref) -> list[str]:
    return [one.path for one in inventory.held.get(ref, ())]


def _written(held: tuple[Held, ...]) -> list[str]:
    return [text.text.rstrip() for one in held for text in one.piece.written]
