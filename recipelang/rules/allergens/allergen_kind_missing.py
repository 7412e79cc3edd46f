"""Tree nuts, fish or shellfish are named without their kind, or with one that does not belong there.

Why
    A child may be allergic to one nut or one fish and not to another, and labels must name the kind, so the kind is on
    the package. A clam is a mollusk: it is none of the nine, and whoever avoids crustaceans may eat it. Whatever a line
    names still breaks a promise; only its word is asked about.
Source
    21 U.S.C. 343(w): the specific nut, or the species of fish or crustacean shellfish. FDA, Questions and Answers
    Regarding Food Allergens, edition 5, January 2025, table 1: the twelve tree nuts that count.
Breaks
    food baked fish bites
        contains fish, wheat
        //       ^^^^ allergen-kind-missing: "fish"
    food seafood chowder base
        contains milk, crustacean shellfish: clam
        //                                   ^^^^ warning allergen-kind-missing: "mollusk"
    food winter soup base
        contains tree nuts: chestnut
        //                  ^^^^^^^^ hint allergen-kind-missing: "January 2025"
Fixed
    food baked fish bites
        contains fish: pollock, wheat
    food seafood chowder base
        contains milk, crustacean shellfish: crab
    food winter soup base
        contains tree nuts: pecan
Leaves alone
    food seafood chowder
        contains milk, crustacean shellfish: snow crab, shrimp, tree nuts: Brazil nuts, slivered almonds, fish: swai
"""

from __future__ import annotations

from collections.abc import Iterator

from recipelang.findings.finding import HINT, WARNING, Finding
from recipelang.model.allergen_lines import misspelled_allergen
from recipelang.model.allergen_words import allergen_of_kind, is_crustacean, is_mollusk, is_tree_nut, was_tree_nut
from recipelang.model.vocabulary import ALLERGEN_SPELLINGS, NAMES_KINDS
from recipelang.rules.rule import FOOD, Subject, rule
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Word
from recipelang.text.sentence import capital

_EXAMPLE = {"tree nuts": "almond", "fish": "pollock", "crustacean shellfish": "shrimp"}
_SOURCE = "21 U.S.C. 343(w): labels name the nut or the species"
_LIST = "FDA, Questions and Answers Regarding Food Allergens, edition 5, January 2025, table 1: twelve tree nuts"


@rule(FOOD, HINT)
def check(subject: Subject) -> Iterator[Finding]:
    for line in subject.body.lines:
        if isinstance(line, tree.Allergens):
            yield from _line(subject, line)


def _line(subject: Subject, line: tree.Allergens) -> Iterator[Finding]:
    group = ""
    for item in line.items:
        name = ALLERGEN_SPELLINGS.get(fold(item.name.text))
        group = name or group
        if group not in NAMES_KINDS:
            continue
        if name and item.kind is None:
            if line.verb == "contains" and fold(item.name.text) not in ("nuts", "nut"):  # which nuts is asked already
                yield subject.finding(
                    item.name,
                    f"The kind of {name} is not named.",
                    source=_SOURCE,
                    help=f"write the kind as the label does, as in `{name}: {_EXAMPLE[name]}`",
                )
            continue
        kind = item.kind or item.name
        if item.kind is not None or not misspelled_allergen(fold(kind.text)):
            yield from _kind(subject, group, kind)


def _kind(subject: Subject, group: str, kind: Word) -> Iterator[Finding]:
    word = fold(kind.text)
    if (ALLERGEN_SPELLINGS.get(word) or allergen_of_kind(word) or group) != group:
        return  # it belongs to another allergen, which reading says
    if is_mollusk(word):
        yield subject.finding(
            kind,
            f"{capital(word)} is a mollusk, not {'fish' if group == 'fish' else group}; mollusks are none of the nine allergens.",
            source="21 U.S.C. 321(qq): fish, and crustacean shellfish such as crab, lobster or shrimp",
            help="read the label again: if it names no crustacean and no fish, leave this out; tell the parents of a child "
            "who avoids shellfish that the food holds " + word,
            severity=WARNING,
        )
    elif group == "tree nuts" and was_tree_nut(word):
        yield subject.finding(
            kind,
            f"{capital(word)} left FDA's list of tree nuts in January 2025; new labels no longer call it one.",
            source=_LIST,
            help=f"leave it to keep {word} from children who avoid tree nuts, or take it out when a new label does not "
            "name it under `contains`",
        )
    elif group == "tree nuts" and not is_tree_nut(word):
        yield subject.finding(
            kind,
            f"{capital(word)} is not one of the twelve tree nuts on FDA's list.",
            source=_LIST,
            help="write the nut as the label names it, as in `tree nuts: almond`",
            severity=WARNING,
        )
    elif group == "crustacean shellfish" and not is_crustacean(word):
        yield subject.finding(
            kind,
            f"{capital(word)} is no crustacean that is known here.",
            source=_SOURCE,
            help="write the species as the label names it, as in `crustacean shellfish: shrimp`",
        )
