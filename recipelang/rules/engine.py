"""Runs the rules over a declaration: findings by rule, problems of reading, allowances, and what a variation keeps
silent about because its base already says it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Final

from recipelang.evaluate.facts import Entry, Facts, fact, library_fact
from recipelang.evaluate.names import (
    also_called_of,
    body_of,
    declaration_of,
    homes_of,
    mentions_of,
    own_meaning,
    source_of,
    tree_of,
)
from recipelang.facts.menu.menu import calendar_of
from recipelang.facts.recipe.recipe import base_of, is_based_on_itself
from recipelang.findings.finding import (
    ERROR,
    HINT,
    OFF,
    WARNING,
    DeclarationId,
    Edit,
    Finding,
    Fix,
    Place,
    Related,
    brief,
)
from recipelang.model.names import Declared, Ref
from recipelang.model.variation import base_word
from recipelang.rules.catalogue import names, rules, rules_by_subject
from recipelang.rules.library import internal_error
from recipelang.rules.rule import CONTAINER, DECLARATION, FOOD, MENU, RECIPE, Rule, Subject
from recipelang.syntax.tree import Allowance, Body, Problem
from recipelang.text.record import Record

_SUBJECTS: Final = {"food": FOOD, "container": CONTAINER, "recipe": RECIPE, "variation": RECIPE, "menu": MENU}


ALLOWED: Final = "Allowed ("
"""How a finding begins that somebody has allowed and that no allowance hides."""


class Checked(Record):
    """What checking a declaration found. `raw` are the findings before allowances, which a variation compares with."""

    findings: tuple[Finding, ...]
    raw: tuple[Finding, ...]


@library_fact
def severities(facts: Facts) -> dict[str, str]:
    """What the library's configuration makes of each rule that it names; safety rules stay what they are."""
    known = rules()
    configured = facts.settings.severities
    return {name: severity for name, severity in configured if name not in known or not known[name].hard}


@fact
def check_of(facts: Facts, ref: Ref) -> Checked:
    """All findings of the declaration that a reference means, allowances applied, in order of place."""
    declared = declaration_of(facts, ref)
    subject = subject_of(facts, ref, declared)
    own = body_of(facts, ref)
    failed: dict[str, Exception] = {}
    raw = _problems(facts, subject, own, failed)
    raw += _run(rules_on(facts, declared.kind), subject, failed)
    if failed:
        raw.append(internal_error.failure(subject.name_place, failed))
    if declared.kind == "variation":
        raw = _quiet_where_base_speaks(facts, subject, own, raw)
    return Checked(tuple(_allowed(own, declared.home, raw, facts)), tuple(raw))


class Settled:
    """Which facts no further name can change, asked while the library's names are still being gathered."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        self._revision = 0
        self._known: dict[Entry, bool] = {}

    def covers(self, entries: Iterable[Entry]) -> bool:
        """Whether no further name can change any of these facts."""
        if self._revision != self._facts.revision:
            self._revision = self._facts.revision
            self._known.clear()
        known = self._known
        waiting = list(entries)
        asked = tuple(waiting)
        while waiting:
            entry = waiting[-1]
            if entry in known:
                waiting.pop()
            elif not entry.read:
                known[entry] = entry.fact not in (homes_of, also_called_of, mentions_of) and (
                    entry.fact is not own_meaning or entry.value is not None
                )
            else:
                unknown = [one for one in entry.read if one not in known]
                if unknown:
                    waiting += unknown
                else:
                    known[entry] = all(known[one] for one in entry.read)
        return all(known[one] for one in asked)


def sure_findings(facts: Facts, ref: Ref, settled: Settled) -> list[Finding]:
    """What can be said of a declaration while the library's names are still being gathered: what rests on no name that
    nobody has yet, nor on who else has one. In a variation, which may be based on anything, that is what can't be
    read."""
    declared = declaration_of(facts, ref)
    own = body_of(facts, ref)
    raw = problem_findings(declared.home, own)
    if declared.kind != "variation":
        # a subject remembers what it was asked for: each piece of work has its own, so that what it rests on is seen
        work: list[Callable[[], list[Finding]]] = [
            partial(_problems, facts, subject_of(facts, ref, declared), own, {}),
            *(partial(_run, (one,), subject_of(facts, ref, declared), {}) for one in rules_on(facts, declared.kind)),
        ]
        for one_work in work:
            found, read = facts.watch(one_work)
            if settled.covers(read):
                raw += found
    allowed = _allowed(own, declared.home, list(dict.fromkeys(raw)), facts)
    return [finding for finding in allowed if finding.rule != "unused-allowance"]


def subject_of(facts: Facts, ref: Ref, declared: Declared) -> Subject:
    """A declaration as rules see it; its home may be that of a duplicate."""
    source = source_of(facts, declared.home)
    start = source.name_start if source.name else source.header
    end = source.name_end if source.name else source.header + len(source.kind)
    return Subject(facts, ref, declared, declared.home, start, end)


def problem_findings(home: DeclarationId, body: Body) -> list[Finding]:
    """The problems of reading a declaration that no name leads to: stray text, a duplicate."""
    return [_from_problem(home, problem) for problem in body.problems]


def duplicate_findings(facts: Facts, ref: Ref, declared: Declared) -> list[Finding]:
    """What is said of a declaration whose name another one has first: that, and what can't be read in it."""
    one = rules()["duplicate-name"]
    subject = subject_of(facts, ref, declared)
    severity = severities(facts).get(one.name, one.severity)
    found = problem_findings(declared.home, tree_of(facts, declared.home))
    if severity != OFF:
        found += [brief(finding._replace(rule=one.name, severity=severity)) for finding in one.check(subject)]
    return sorted(found, key=_order)


def _problems(facts: Facts, subject: Subject, own: Body, failed: dict[str, Exception]) -> list[Finding]:
    """What can't be read in a declaration, or makes no sense for what it is."""
    problems = dict.fromkeys(own.problems)
    try:
        problems.update(dict.fromkeys(_problems_of_model(facts, subject)))
    except ImportError:
        raise
    except Exception as error:
        _note(failed, "syntax", subject, error)
    configured = severities(facts)
    wanted = ((problem, configured.get(problem.rule, ERROR)) for problem in problems)
    return [_from_problem(subject.home, problem, severity) for problem, severity in wanted if severity != OFF]


def _problems_of_model(facts: Facts, subject: Subject) -> tuple[Problem, ...]:
    match subject.kind:
        case "food":
            return subject.food.problems
        case "container":
            return subject.container.problems
        case "recipe" | "variation":
            return subject.recipe.problems
        case "menu":
            return subject.menu.problems
        case "calendar":
            return calendar_of(facts, subject.ref).problems
    return ()


def _from_problem(home: DeclarationId, problem: Problem, severity: str = ERROR) -> Finding:
    place = Place(home, problem.start, problem.end)
    fixes: tuple[Fix, ...] = ()
    if problem.instead is not None:
        whole = place if problem.reach is None else Place(home, *problem.reach)
        title = f"write `{problem.instead.strip()}`" if problem.reach is None else "join it to the step above"
        fixes = (Fix(title, (Edit(whole, problem.instead),), changes_food=problem.reach is not None),)
    return brief(
        Finding(
            rule=problem.rule,
            severity=severity,
            place=place,
            message=problem.message,
            figures=(),
            source="",
            help=problem.help,
            related=(),
            fixes=fixes,
        )
    )


@fact
def rules_on(facts: Facts, kind: str) -> tuple[tuple[Rule, str], ...]:
    """The rules that look at a kind of declaration and are on, each with its severity."""
    configured = severities(facts)
    grouped = rules_by_subject()
    every = (*grouped.get(DECLARATION, ()), *grouped.get(_SUBJECTS.get(kind, ""), ()))
    found = ((one, configured.get(one.name, OFF if one.default_off else one.severity)) for one in every)
    return tuple((one, severity) for one, severity in found if severity != OFF)


def _run(chosen: Iterable[tuple[Rule, str]], subject: Subject, failed: dict[str, Exception]) -> list[Finding]:
    """What rules find. One that fails is noted, whoever wants to hear of it is told, and the others go on."""
    found: list[Finding] = []
    for one, severity in chosen:
        try:
            # what a rule finds on a menu is a fact: weeks are large, and one dish of them touches few rules
            is_large = subject.kind == "menu"
            for finding in found_by(subject.facts, (one.name, subject.ref)) if is_large else one.check(subject):
                weight = _severity(one, severity, finding.severity)
                found.append(brief(finding._replace(rule=one.name, severity=weight)))
        except ImportError:  # a library of Python's that is not installed: nothing at all can be said
            raise
        except Exception as error:
            _note(failed, one.name, subject, error)
    return found


@fact
def found_by(facts: Facts, key: tuple[str, Ref]) -> tuple[Finding, ...]:
    """What a rule, by name, finds on what a name means, with the severities that it gives itself."""
    name, ref = key
    return tuple(rules()[name].check(subject_of(facts, ref, declaration_of(facts, ref))))


def _note(failed: dict[str, Exception], name: str, subject: Subject, error: Exception) -> None:
    failed[name] = error
    if subject.facts.on_crash is not None:
        subject.facts.on_crash(name, subject.ref, error)


def _severity(one: Rule, configured: str, given: str) -> str:
    """A finding's own severity stands unless the configuration softens the rule."""
    if not given or configured != one.severity:
        return configured
    return given


# ---- variations ----------------------------------------------------------------------------------------------------


def _quiet_where_base_speaks(facts: Facts, subject: Subject, own: Body, raw: list[Finding]) -> list[Finding]:
    """Findings at a line of the base: dropped where the base has the same, else moved into the variation with the
    base's line beside them."""
    word = base_word(own)
    base = base_of(facts, subject.ref)
    if word is None or base is None or is_based_on_itself(facts, subject.ref, base):
        return [finding for finding in raw if finding.place.home == subject.home]
    checked = check_of(facts, base)
    said = {(finding.rule, finding.place) for finding in checked.raw}
    said |= {(finding.rule, related.place) for finding in checked.raw for related in finding.related}
    kept: list[Finding] = []
    for finding in raw:
        if finding.place.home == subject.home:
            kept.append(finding)
        elif (finding.rule, finding.place) not in said:
            cause = Related(finding.place, "this line of the base is the cause")
            kept.append(
                finding._replace(
                    place=subject.place(Place(subject.home, word.start, word.end)),
                    related=(cause, *finding.related),
                    fixes=(),
                )
            )
    return kept


# ---- allowances ------------------------------------------------------------------------------------------------------


def _allowed(own: Body, home: DeclarationId, raw: list[Finding], facts: Facts) -> list[Finding]:
    """Findings less those that an allowance speaks for, and what is wrong with the allowances themselves."""
    if not own.allowances:
        return sorted(raw, key=_order)
    known = rules()
    configured = severities(facts)
    used: set[Allowance] = set()
    kept: list[Finding] = []
    for finding in raw:
        one = known.get(finding.rule)
        by = next(
            (
                allowance
                for allowance in own.allowances
                if allowance.rule == finding.rule
                and allowance.reason
                and finding.place.home == home
                and allowance.line_start <= finding.place.start <= allowance.line_end
            ),
            None,
        )
        if by is None:
            kept.append(finding)
            continue
        used.add(by)
        if one is not None and not one.may_allow:
            kept.append(finding)
        elif one is not None and one.hard:
            kept.append(finding._replace(severity=HINT, message=f"{ALLOWED}{by.reason}): {finding.message}"))
    for allowance in own.allowances:
        kept.extend(_about(allowance, home, used, configured, known))
    return sorted(kept, key=_order)


def _about(
    allowance: Allowance, home: DeclarationId, used: set[Allowance], configured: dict[str, str], known: dict[str, Rule]
) -> list[Finding]:
    place = Place(home, allowance.start, allowance.end)
    one = known.get(allowance.rule)
    is_off = configured.get(allowance.rule, OFF if one is not None and one.default_off else "") == OFF
    if configured.get("unused-allowance") == OFF or is_off or not allowance.reason:
        return []
    if one is None and allowance.rule not in names():
        from recipelang.findings.nearest import nearest

        near = nearest(allowance.rule, names(), 1)
        return [
            Finding(
                "unused-allowance",
                WARNING,
                place,
                f"No rule is called `{allowance.rule}`.",
                help=f"write `{near[0]}`" if near else "`recipelang explain` lists the rules",
            )
        ]
    if one is not None and not one.may_allow:
        why = ": it stands for children's safety" if one.area in ("allergens", "safety") else ""
        message = f"{allowance.rule} can't be allowed{why}."
        help = "delete the comment and fix what it speaks of"
        return [Finding("unused-allowance", WARNING, place, message, help=help)]
    if allowance not in used:
        return [
            Finding(
                "unused-allowance",
                WARNING,
                place,
                f"Nothing here breaks {allowance.rule}; the allowance allows nothing.",
                help="delete the comment",
                fixes=(Fix("delete the allowance", (Edit(place, ""),)),),
            )
        ]
    return []


def _order(finding: Finding) -> tuple[object, ...]:
    return (finding.place.start, finding.place.end, finding.rule, finding.message)
