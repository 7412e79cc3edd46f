"""Which change did what: for every figure and finding that differs, the changed lines that it comes from.

A declaration that rests on one change has it for its cause. Where several come in question, each change is made by itself
in the older version, and taken by itself out of the newer one. Causes are the changes without which the effect is not
there; where none is needed, because two bring it, those that bring it by themselves; where neither, all of them together.
That is two looks for each change, never one for each combination.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from recipelang.facts.outcome.values import Credit, Sum, Value
from recipelang.findings.finding import Finding
from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.units.fraction import Fraction
from recipelang.versions.difference import CHANGED, DeclarationChange, Difference, identity
from recipelang.versions.hunks import ChangedText, changed_text, only, without
from recipelang.versions.inventory import Inventory
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.packing import FINDINGS, Outcome

SETTINGS: Final = "="
"""Stands for the configuration, and the year whose rules hold, among the names of causes."""
WHOLE: Final = -1
"""Stands for all changed lines of a declaration."""
MOST_LOOKS: Final = 2000
"""Looks at swapped texts after which the rest of the effects keep their candidates unsorted."""


class Atom(Record):
    """One change: some lines of a declaration, a declaration as a whole, or the settings."""

    ref: Ref
    hunk: int = WHOLE


class Cause(Record):
    """A declaration, or the settings, that an effect comes from."""

    ref: Ref
    hunks: tuple[int, ...]
    """Which of its changes; empty for the declaration as a whole."""
    share: Fraction | None = None
    """How much of a sum's difference is this cause's, where the causes add up."""


class Causes(Record):
    """The causes of one effect."""

    causes: tuple[Cause, ...]
    together: bool = False
    """Whether none of them would do it alone, or their parts do not add up."""
    is_sorted: bool = True
    """False where there were too many to try: then these are all that come in question."""


Effect = tuple[Ref, object]
"""A declaration, and the name of a figure or the identity of a finding that came or went."""


class Attribution(Record):
    texts: dict[Ref, ChangedText]
    by_effect: dict[Effect, Causes]
    unsorted: int
    """Declarations whose causes were not tried apart."""

    def of_figure(self, ref: Ref, name: str) -> Causes:
        return self.by_effect[ref, name]

    def of_finding(self, ref: Ref, finding: Finding) -> Causes:
        return self.by_effect[ref, identity(finding)]


def attribute(made: Difference, outcomes: Outcomes) -> Attribution:
    """The causes of everything that differs."""
    return _Attributing(made, outcomes).attribution()


class _Attributing:
    def __init__(self, made: Difference, outcomes: Outcomes) -> None:
        self.made = made
        self.outcomes = outcomes
        self.texts = {ref: changed_text(made.before, made.newer.inventory, ref) for ref in made.changed}
        self.by_effect: dict[Effect, Causes] = {}
        self.alone: dict[tuple[Ref, Atom], Outcome] = {}
        self.missing: dict[tuple[Ref, Atom], Outcome] = {}

    def attribution(self) -> Attribution:
        open_ones: list[tuple[DeclarationChange, list[Atom]]] = []
        left = MOST_LOOKS
        unsorted = 0
        for one in self._worst_first():
            atoms = list(self._candidates(one))
            if one.state != CHANGED or not atoms:
                self._set(one, Causes((Cause(one.ref, ()),)))
            elif len(atoms) == 1:
                self._set(one, Causes((self._cause(atoms[0]),)))
            elif 2 * len(atoms) > left:
                unsorted += 1
                self._set(one, Causes(tuple(self._joined(dict.fromkeys(atoms, None))), is_sorted=False))
            else:
                left -= 2 * len(atoms)
                open_ones.append((one, atoms))
        self._swap(open_ones)
        for one, atoms in open_ones:
            for effect, causes in self._sorted(one, atoms):
                self.by_effect[one.ref, effect] = causes
        return Attribution(self.texts, self.by_effect, unsorted)

    def _worst_first(self) -> list[DeclarationChange]:
        """What weighs most is tried first, while there are looks left."""
        return sorted(self.made.declarations, key=lambda one: (-_weight(one), one.ref))

    def _candidates(self, one: DeclarationChange) -> Iterator[Atom]:
        """The changes among what a declaration rests on, on either side."""
        reads: set[str] = {one.ref}
        reads.update(self.made.outcomes_before.reads(one.ref), self.made.outcomes_after.reads(one.ref))
        if self.made.has_other_settings:
            yield Atom(SETTINGS)
        told: set[Ref] = set()
        for ref in self.made.changed:
            joint = self.made.joined.get(ref, ref)
            if joint in told or not (ref in reads or self._is_listed(ref, reads)):
                continue
            if joint != ref:
                told.add(joint)
                yield Atom(joint)
            else:
                hunks = self.texts[ref].hunks
                if len(hunks) < 2:
                    yield Atom(ref)
                else:
                    yield from (Atom(ref, number) for number in range(len(hunks)))

    def _is_listed(self, ref: Ref, reads: set[str]) -> bool:
        """Whether a declaration is one of all menus or calendars that are looked through."""
        text = self.texts.get(ref)
        return text is not None and bool(text.before or text.after) and f"* {text.kind}" in reads

    # ---- swapping ----

    def _swap(self, open_ones: Iterable[tuple[DeclarationChange, list[Atom]]]) -> None:
        """Looks at each declaration with each of its changes alone, and without it."""
        made = self.made
        concerned: dict[Atom, list[DeclarationChange]] = {}
        for one, atoms in open_ones:
            for atom in atoms:
                concerned.setdefault(atom, []).append(one)
        for found, base, is_older in ((self.missing, made.newer.inventory, False), (self.alone, made.before, True)):
            for atom, many in concerned.items():
                inventory = self._swapped(base, atom, is_older)
                # the settings by themselves: the older texts under the newer settings; without them, the other way round
                newer_settings = is_older == (atom.ref == SETTINGS)
                evaluation = self.outcomes.evaluation(made.newer if newer_settings else made.older)
                evaluation.load(inventory)
                for one in many:
                    found[one.ref, atom] = evaluation.part(one.ref, self._groups(one))

    def _swapped(self, base: Inventory, atom: Atom, is_older: bool) -> Inventory:
        if atom.ref == SETTINGS:
            return base
        members = [ref for ref, joint in self.made.joined.items() if joint == atom.ref]
        if members:
            texts = [self.texts[ref] for ref in members if ref in self.texts]
            return base.with_held({one.ref: one.after if is_older else one.before for one in texts})
        text = self.texts[atom.ref]
        if atom.hunk == WHOLE:
            held = text.after if is_older else text.before
        else:
            held = only(text, [atom.hunk]) if is_older else without(text, [atom.hunk])
        return base.with_held({atom.ref: held})

    def _groups(self, one: DeclarationChange) -> set[str]:
        """The groups in which something of a declaration differs."""
        differing = {figure.name for figure in one.figures}
        found = {FINDINGS} if one.gained or one.lost else set()
        for outcomes in (self.made.outcomes_before, self.made.outcomes_after):
            outcome = outcomes.get(one.ref)
            for name, figures in outcome.groups.items() if outcome is not None else ():
                if differing & figures.keys():
                    found.add(name)
        return found

    # ---- sorting out ----

    def _sorted(self, one: DeclarationChange, atoms: list[Atom]) -> Iterator[tuple[object, Causes]]:
        for figure in one.figures:
            missing = {atom: self.missing[one.ref, atom].figures.get(figure.name) for atom in atoms}
            alone = {atom: self.alone[one.ref, atom].figures.get(figure.name) for atom in atoms}
            needed = [atom for atom in atoms if missing[atom] != figure.after]
            by_itself = [atom for atom in atoms if alone[atom] != figure.before]
            found = needed or by_itself or atoms
            shares = _shares(figure.before, figure.after, found, alone, missing)
            causes = tuple(self._joined(shares or dict.fromkeys(found)))
            each_alone = shares is not None or found is by_itself
            yield figure.name, Causes(causes, together=len(causes) > 1 and not each_alone)
        for finding, came in [*((found, True) for found in one.gained), *((found, False) for found in one.lost)]:
            key = identity(finding)
            there = {atom: _holds(self.missing[one.ref, atom], key) for atom in atoms}
            brought = {atom: _holds(self.alone[one.ref, atom], key) for atom in atoms}
            needed = [atom for atom in atoms if there[atom] != came]
            by_itself = [atom for atom in atoms if brought[atom] == came]
            found = needed or by_itself or atoms
            joined = tuple(self._joined(dict.fromkeys(found)))
            yield key, Causes(joined, together=len(joined) > 1 and found is not by_itself)

    def _joined(self, atoms: dict[Atom, Fraction | None]) -> Iterator[Cause]:
        """Changes of the same declaration as one cause."""
        by_ref: dict[Ref, list[Atom]] = {}
        for atom in atoms:
            by_ref.setdefault(atom.ref, []).append(atom)
        for ref, many in by_ref.items():
            shares = [share for atom in many if (share := atoms[atom]) is not None]
            share = sum(shares, Fraction(0)) if len(shares) == len(many) else None
            hunks = tuple(atom.hunk for atom in many if atom.hunk != WHOLE)
            yield Cause(ref, hunks, share) if hunks else self._cause(many[0], share)

    def _cause(self, atom: Atom, share: Fraction | None = None) -> Cause:
        text = self.texts.get(atom.ref)
        hunks = (0,) if text is not None and len(text.hunks) == 1 else ()
        return Cause(atom.ref, hunks if atom.hunk == WHOLE else (atom.hunk,), share)

    def _set(self, one: DeclarationChange, causes: Causes) -> None:
        for figure in one.figures:
            self.by_effect[one.ref, figure.name] = causes
        for finding in (*one.gained, *one.lost):
            self.by_effect[one.ref, identity(finding)] = causes


def _holds(outcome: Outcome, key: object) -> bool:
    return any(identity(finding) == key for finding in outcome.findings)


def _shares(
    before: Value | None, after: Value | None, atoms: list[Atom], alone: dict[Atom, Value | None],
    missing: dict[Atom, Value | None],
) -> dict[Atom, Fraction | None] | None:  # fmt: skip
    """How much of a difference each change makes; None where it is no difference of sums, or where they do not add up."""
    start, end = _number(before), _number(after)
    if start is None or end is None:
        return None
    shares: dict[Atom, Fraction | None] = {}
    for atom in atoms:
        by_itself, without_it = _number(alone[atom]), _number(missing[atom])
        if by_itself is None or without_it is None or by_itself - start != end - without_it:
            return None
        shares[atom] = by_itself - start
    total = sum((share for share in shares.values() if share is not None), Fraction(0))
    return shares if total == end - start else None


def _number(value: Value | None) -> Fraction | None:
    if isinstance(value, Sum):
        return value.known
    return value.exact if isinstance(value, Credit) else None


def _weight(one: DeclarationChange) -> int:
    severities = {finding.severity for finding in (*one.gained, *one.lost)}
    return 3 if "error" in severities else 2 if severities else 1
