"""What a check says in words beside its findings: what another school year changes, and what a baseline did."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from recipelang.findings.wording import counted, shortlist
from recipelang.workspace.report import Hidden
from recipelang.workspace.rule_year_diff import Years

_MOST_ENTRIES = 10


def years_lines(years: Years) -> Iterator[str]:
    """The rules that another year's figures touch, with the declarations they touch."""
    if not years.changes:
        yield f"School year {years.other} changes nothing against {years.own}, the library's own."
        return
    yield f"What school year {years.other} changes against {years.own}, the library's own:"
    for one in years.changes:
        yield f"  {one.rule}"
        for names, what in ((one.gained, "gained"), (one.lost, "lost"), (one.differing, "with other figures")):
            if names:
                yield f"    {len(names)} {what}: {shortlist(_named(names))}"


def hidden_lines(hidden: Hidden) -> Iterator[str]:
    """The entries of a baseline that hide nothing, and how it is made smaller."""
    name = hidden.baseline
    if hidden.outdated:
        entries = counted(len(hidden.outdated), "entry", "entries")
        verb = "matches" if len(hidden.outdated) == 1 else "match"
        yield f"{entries} of {name} {verb} nothing any more; `--baseline {name} --write-baseline {name}` takes them out:"
        yield from _entries(hidden.outdated)
    if hidden.refused:
        entries = counted(len(hidden.refused), "entry", "entries")
        verb, them = ("hides", "it") if len(hidden.refused) == 1 else ("hide", "them")
        yield f"{entries} of {name} {verb} nothing, because no baseline may hold {them}:"
        yield from _entries(hidden.refused)


def _entries(entries: tuple[str, ...]) -> Iterator[str]:
    for entry in entries[:_MOST_ENTRIES]:
        yield f"  {entry}"
    if len(entries) > _MOST_ENTRIES:
        yield f"  and {len(entries) - _MOST_ENTRIES} more"


def _named(names: tuple[str, ...]) -> list[str]:
    """Each name once, with how often where that is more than once."""
    return [name if number == 1 else f"{name} ({number})" for name, number in Counter(names).items()]
