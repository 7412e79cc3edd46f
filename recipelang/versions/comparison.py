"""A comparison ready to be printed: what differs, the effects in order, and the changes they come from, each where it
stands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from recipelang.model.names import Ref
from recipelang.text.record import Record
from recipelang.versions.causes import SETTINGS, Attribution, Cause, attribute
from recipelang.versions.difference import Counts, Difference, Wanted, counts, difference
from recipelang.versions.effects import Effect, by_cause, category_of, effects
from recipelang.versions.hunks import lines_of
from recipelang.versions.inventory import ASTRAY
from recipelang.versions.outcomes import Outcomes
from recipelang.versions.places import Locating, line_of
from recipelang.versions.roads import Roads
from recipelang.versions.sources import Version
from recipelang.workspace.files import CONFIG_NAME


class ChangedPlace(Record):
    """A change that effects come from: what it is, where it stands, and its lines before and after."""

    name: str
    kind: str
    path: str
    line: int
    """0 where there is none: the year whose rules hold."""
    lines: tuple[tuple[str, str], ...]
    """The changed lines, without blanks around them; empty for a line that was added or taken out."""
    what: str
    """What happened, where no lines say it."""
    is_imagined: bool = False


class Comparison:
    """Two versions of a library beside each other."""

    def __init__(
        self, made: Difference, attribution: Attribution, only: frozenset[str] = frozenset(),
        imagined: frozenset[Ref] = frozenset(),
    ) -> None:  # fmt: skip
        self.difference = made
        self.attribution = attribution
        self.all_effects = effects(made, attribution)
        self.effects = [one for one in self.all_effects if not only or _is_asked(one, only)]
        self.unsorted = attribution.unsorted
        self.by_cause = by_cause(self.effects)
        self._imagined = imagined
        self._places: dict[Ref, ChangedPlace] = {}
        self._spans: dict[Ref, list[tuple[int, int]]] = {}
        """For each change of a declaration which of its lines it is."""
        self._names = {one.ref: one.name for one in made.declarations}
        self._roads = Roads(made.newer.inventory, made.before)
        self.located_before = Locating(made.older, made.before)
        self.located_after = Locating(made.newer)

    @classmethod
    def of(cls, older: Version, newer: Version, outcomes: Outcomes, looked_at: frozenset[Ref]) -> Comparison:
        """Two versions beside each other as far as some declarations go."""
        made = difference(older, newer, outcomes, looked_at=looked_at)
        return cls(made, attribute(made, outcomes))

    def keep_only(self, figure: str) -> None:
        """Leaves out all effects but those on one figure."""
        self.effects = [one for one in self.effects if one.name == figure]
        self.by_cause = by_cause(self.effects)

    @property
    def older(self) -> str:
        return self.difference.older.label

    @property
    def newer(self) -> str:
        return self.difference.newer.label

    @cached_property
    def counts(self) -> Counts:
        """How much was changed."""
        return counts(self.difference)

    @property
    def notes(self) -> tuple[str, ...]:
        """What was left out of either side, in sentences."""
        return tuple(dict.fromkeys((*self.difference.older.notes, *self.difference.newer.notes)))

    def name(self, ref: Ref) -> str:
        """What a declaration is called now."""
        held = self.difference.newer.inventory.held.get(ref) or self.difference.before.held.get(ref)
        return held[0].piece.name or held[0].path if held else ref.removeprefix(ASTRAY)

    def older_name(self, ref: Ref) -> str:
        return self.difference.older.inventory.held[ref][0].piece.name

    def was_damaged(self, ref: Ref) -> bool:
        """Whether characters of a declaration, its name perhaps, could not be read in the older version."""
        return self.difference.older.inventory.held[ref][0].piece.damaged

    def was_unknown(self, ref: Ref) -> bool:
        """Whether nobody knew all allergens of a declaration before, so that none that is known now is gained."""
        before = self.difference.outcomes_before.get(ref)
        return before is not None and "allergens unknown" in before.figures

    def place(self, ref: Ref) -> tuple[str, int]:
        """File and line of a declaration: where it is, or where it was."""
        after = self.difference.newer.inventory
        held = after.held.get(ref)
        if held:
            return held[0].path, line_of(after, held[0])
        older = self.difference.older.inventory
        before = self.difference.before.held.get(ref)
        if not before:
            return ref.removeprefix(ASTRAY), 1  # a file as a whole
        return before[0].path, line_of(older, before[0])

    def older_path(self, ref: Ref) -> str:
        """The file in which a declaration stood; empty where there was none."""
        held = self.difference.before.held.get(ref)
        return held[0].path if held else ""

    def has_moved(self, ref: Ref) -> bool:
        """Whether a declaration stands in another file than it did."""
        held = self.difference.newer.inventory.held.get(ref)
        return held is not None and self.older_path(ref) not in ("", held[0].path)

    def lines_of(self, cause: Cause) -> list[int]:
        """Which of a change's lines a cause is, counted as `ChangedPlace.lines` counts them; all of them where it is the
        change as a whole."""
        self.cause(cause.ref)
        spans = self._spans.get(cause.ref, [])
        if not cause.hunks or not spans:
            return list(range(len(self._places[cause.ref].lines)))
        return [line for one in cause.hunks for line in range(*spans[one])]

    def road(self, start: Ref, end: Ref) -> list[str]:
        """The names from a declaration down to the change that reaches it."""
        is_named = end != SETTINGS and end not in self.difference.joined.values()
        road = self._roads.road(start, end)
        return [self.name(ref) if is_named or ref != end else self.cause(ref).name for ref in road]

    def cause(self, ref: Ref) -> ChangedPlace:
        """A change by the name that it is under."""
        if ref not in self._places:
            joint = ref in self.difference.joined.values()
            self._places[ref] = _joint(ref) if joint else self._settings() if ref == SETTINGS else self._text(ref)
        return self._places[ref]

    def _is_held(self, ref: Ref) -> bool:
        return ref in self.difference.newer.inventory.held or ref in self.difference.before.held

    def _settings(self) -> ChangedPlace:
        older, newer = self.difference.older, self.difference.newer
        if older.asked_year != newer.asked_year:
            before = older.asked_year or older.config.school_year or "the library's own year"
            after = newer.asked_year or newer.config.school_year or "the library's own year"
            what = f"the rules of {before} -> {after}"
            return ChangedPlace("the school year", "settings", CONFIG_NAME, 0, (), what, bool(newer.asked_year))
        lines = _setting_lines(older.config_text, newer.config_text)
        return ChangedPlace(CONFIG_NAME, "settings", CONFIG_NAME, 0, lines, "its settings differ")

    def _text(self, ref: Ref) -> ChangedPlace:
        text = self.attribution.texts.get(ref)
        path, line = self.place(ref)
        lines: list[tuple[str, str]] = []
        what = "renamed" if self._is_held(ref) else "its bytes differ"
        if text is not None and text.hunks:
            held = text.after[0]
            old, new = lines_of(text.before[0].piece), lines_of(held.piece)
            for hunk in text.hunks:
                before = [one.strip() for one in old[slice(*hunk.before)]]
                after = [one.strip() for one in new[slice(*hunk.after)]]
                width = max(len(before), len(after))
                self._spans.setdefault(ref, []).append((len(lines), len(lines) + width))
                lines += zip(before + [""] * (width - len(before)), after + [""] * (width - len(after)), strict=True)
            line = line_of(self.difference.newer.inventory, held, min(text.hunks[0].after[0], len(new) - 1))
        elif text is not None:
            what = "added" if not text.before else "taken away" if not text.after else "declared otherwise"
        kind = text.kind if text is not None else ""
        return ChangedPlace(self.name(ref), kind, path, line, tuple(lines), what, ref in self._imagined)


def _joint(ref: Ref) -> ChangedPlace:
    """A name that is used wherever another was: a change of its own, whatever it touches."""
    words = ref.removeprefix("=")
    new, _, old = words.partition(" instead of ")
    return ChangedPlace(words, "swap", "", 0, ((old, new),), "", True)


def _setting_lines(before: str, after: str) -> tuple[tuple[str, str], ...]:
    old = {line.split("#")[0].strip() for line in before.splitlines()}
    new = {line.split("#")[0].strip() for line in after.splitlines()}
    gone, come = sorted(old - new), sorted(new - old)
    width = max(len(gone), len(come))
    return tuple(zip(gone + [""] * (width - len(gone)), come + [""] * (width - len(come)), strict=True))


def _is_asked(effect: Effect, only: frozenset[str]) -> bool:
    """Whether an effect is of a kind that is asked for, by category or by the figure's own name."""
    if effect.category in only:
        return True
    return effect.finding is None and effect.name.removeprefix("nutrient ") in only


def compare(
    older: Version, newer: Version, outcomes: Outcomes | None = None, wanted: Wanted | None = None,
    only: Iterable[str] = (), imagined: frozenset[Ref] = frozenset(), joined: Mapping[Ref, Ref] | None = None,
) -> Comparison:  # fmt: skip
    """What a newer version means beside an older one, with the causes of everything. Of `imagined` declarations it is
    said that nobody has written them so; `joined` says which declarations one change touches."""
    outcomes = Outcomes() if outcomes is None else outcomes
    made = difference(older, newer, outcomes, wanted, joined=joined)
    return Comparison(made, attribute(made, outcomes), frozenset(only), imagined)


__all__ = ["ChangedPlace", "Comparison", "category_of", "compare"]
