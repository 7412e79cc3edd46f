"""What the words of a step say that is done, beside its process lines: what it puts together, cuts, stuffs, heats, thaws.

Nothing is read here that would take control away from food: words can only ask for more of it. A process line that says
the same has the last word. Runs in time linear in the length of the step.
"""

from __future__ import annotations

import re
from typing import Final

from recipelang.model.process_lines import Step
from recipelang.text.record import Record


class StepProse(Record):
    adds: bool = False
    """Whether it puts what it names to what the step before worked on."""
    garnishes: bool = False
    """Whether it lays what it names on top."""
    heats: bool = False
    boils: bool = False
    """Whether what heats is water or steam, which makes what is dry moist."""
    bakes: bool = False
    """Whether what heats is dry: an oven, a grill, a toaster."""
    cuts: frozenset[int] = frozenset()
    """The references, by their place in the step, that it cuts."""
    stuffs: bool = False
    fills: bool = False
    """Whether it fills one named food with another, which only dry pasta and raw food make a stuffed one."""
    reconstitutes: frozenset[int] = frozenset()
    grinds: frozenset[int] = frozenset()
    """The references that it grinds or minces; likewise what it pierces or injects."""
    pierces: frozenset[int] = frozenset()
    microwaves: bool = False
    thaws_warm: bool = False
    serves_hot: bool = False


NOTHING: Final = StepProse()

_ADDS: Final = re.compile(
    r"\b(?:add|adding|return|sprinkle|pour|drizzle|garnish|(?:stir|fold|mix|blend|whisk|beat)\s+in)\b|\bwith(?:\s+the)?\s*\Z",
    re.IGNORECASE,
)
_MIXES: Final = re.compile(r"\b(?:stir|fold|mix|blend|whisk|beat)\b", re.IGNORECASE)
_INTO: Final = re.compile(r"\]\s+into\b", re.IGNORECASE)
_GARNISH: Final = re.compile(r"\b(?:top|sprinkle|garnish|drizzle|dust|scatter|brush|glaze|dollop)\b", re.IGNORECASE)
_CUT: Final = re.compile(
    r"\b(?:cut(?:s|ting)?|chop(?:s|ped|ping)?|slic(?:e|es|ed|ing)|dic(?:e|es|ed|ing)|shred(?:s|ded|ding)?|minc(?:e|es|ed|ing)"
    r"|halv(?:e|es|ed|ing)|quarter(?:s|ed|ing)?|cub(?:e|es|ed|ing)|julienn(?:e|es|ed|ing)|t(?:ear|orn|earing)|crush(?:es|ed|ing)?"
    r"|puree[sd]?|grat(?:e|es|ed|ing)|wedge[sd]?|carv(?:e|es|ed|ing)|peel(?:s|ed|ing)?|cor(?:e|es|ed|ing)|seed(?:ed|ing)"
    r"|trim(?:s|med|ming)?|blend(?:s|ed|ing)?)\b",
    re.IGNORECASE,
)
_RECONSTITUTE: Final = re.compile(r"\b(?:reconstitut|rehydrat)\w*", re.IGNORECASE)
_GRIND: Final = re.compile(
    r"\b(?:re)?grind(?:s|ing)?\b|\bminc(?:e|es|ed|ing)\b|\bcomminut\w+|\b(?:finely|fine)\s+chop|\bchop\w*\s+(?:very\s+)?fine"
    r"|\bfood processor\b|\bground\s+(?:in|through|with|up|fine|coarse)",
    re.IGNORECASE,
)
_PIERCE: Final = re.compile(
    r"\btenderi[sz]\w*|\bjaccard\w*|\binject(?:s|ed|ing)?\b|\bneedl(?:e|es|ed|ing)\b|\bpump\s+with\s+brine",
    re.IGNORECASE,
)
_MICROWAVE: Final = re.compile(r"\bmicrowav(?:e|es|ed|ing)\b", re.IGNORECASE)
_STUFF: Final = re.compile(r"\bstuff(?:s|ed|ing)?\b", re.IGNORECASE)
_EITHER: Final = re.compile(r"\bor\b", re.IGNORECASE)
_STUFFING: Final = re.compile(r"\bstuffings?\b", re.IGNORECASE)
_FILL: Final = re.compile(r"\bfill(?:s|ed)?\b", re.IGNORECASE)
_WITH: Final = re.compile(r"\s*with\b", re.IGNORECASE)
_BOILS: Final = re.compile(
    r"\b(?:boil|simmer|steam|poach|stew|brais|blanch|scald|parboil)(?:s|e|es|ed|ing)?\b(?!\s*(?:tables?|kettle|pan))",
    re.IGNORECASE,
)
_BOILING_LIQUID: Final = re.compile(
    r"\b(?:boiling|simmering)\s+(?:\w+\s+)?(?:water|milk|broth|stock|liquid|juice|sauce|syrup|\x00)", re.IGNORECASE
)
_BAKES: Final = re.compile(
    r"\b(?:bak|roast|toast|broil|grill|griddl|pop|parch|crisp|deep-fr|fr)(?:s|e|es|ed|ing|y|ies|ied|ying)?\b|\boven\b",
    re.IGNORECASE,
)
_THAW: Final = re.compile(r"\b(?:thaw|defrost)\w*", re.IGNORECASE)
_WARM_PLACE: Final = re.compile(
    r"\b(?:counter|countertop|room[ -]temperature|work ?table|table|bench|ambient|windowsill|floor|sink|(?:warm|hot|standing)"
    r" water)\b|\bout\b(?!\s+of)",
    re.IGNORECASE,
)
_COLD_PLACE: Final = re.compile(
    r"\b(?:refrigerat|cooler|fridge|walk-in|running water|never|not|don't|cannot|can't)\w*", re.IGNORECASE
)
_SERVE_HOT: Final = re.compile(
    r"\b(?:serv(?:e|ed|ing)|keep|hold)\s+(?:(?:it|them|at once|immediately|while)\s+)?(?:hot|warm)\b"
    r"|\bsteam[ -]tables?\b(?!\s+pans?\b)|\b(?:hot|heated)\s+(?:box|cabinet|cart|holding)\b|\b(?:food|soup)?\s?warmers?\b",
    re.IGNORECASE,
)
_NAMES: Final = re.compile(r"\[[^\]]*\]?")
_SENTENCE_END: Final = re.compile(r"[.;](?=\s|\Z)")
_WORD: Final = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*|[.,;:]")
_LINKS: Final = re.compile(r"[\s,&]*(?:(?:and|or|the|of|both|all)\b[\s,&]*)*", re.IGNORECASE)

_HEATS: Final = frozenset(
    [
        "bake",
        "baste",
        "blanch",
        "boil",
        "braise",
        "broil",
        "brown",
        "caramelize",
        "cook",
        "deep-fry",
        "fry",
        "griddle",
        "grill",
        "heat",
        "melt",
        "microwave",
        "oven-roast",
        "pan-fry",
        "poach",
        "reheat",
        "roast",
        "sauté",
        "saute",
        "scald",
        "scramble",
        "sear",
        "simmer",
        "soften",
        "steam",
        "stew",
        "stir-fry",
        "toast",
        "warm",
    ]
)
_NO_FOOD: Final = frozenset(
    [
        "oven",
        "ovens",
        "pan",
        "pans",
        "grill",
        "griddle",
        "kettle",
        "steamer",
        "fryer",
        "skillet",
        "pot",
        "pots",
        "stockpot",
        "table",
        "tables",
        "tray",
        "trays",
        "plates",
        "plate",
        "oil",
        "water",
        "unit",
        "cabinet",
    ]
)
"""What is heated before any food is."""
_BETWEEN: Final = frozenset(["and", "then", "or", "but", "until"])
_PASSED_OVER: Final = frozenset(["the", "a", "an", "in", "up", "your", "each"])


def step_prose(step: Step) -> StepProse:
    """What a step's words say."""
    text = step.text.text
    if not text.strip("- \t"):
        return NOTHING
    head = text.partition("[")[0]
    named = _of_named(step)
    plain = _NAMES.sub(lambda match: "\x00" * len(match[0]), text)
    return StepProse(
        adds=bool(_ADDS.search(head)) or _mixes_into(text),
        garnishes=bool(_GARNISH.search(head)),
        heats=_heats(plain) or bool(_BOILING_LIQUID.search(plain)),
        boils=bool(_BOILS.search(plain) or _BOILING_LIQUID.search(plain)),
        bakes=bool(_BAKES.search(plain)),
        cuts=named.cuts,
        stuffs=named.stuffs or bool(_STUFFING.search(plain)),
        fills=named.fills,
        reconstitutes=named.reconstitutes,
        grinds=named.grinds,
        pierces=named.pierces,
        microwaves=_microwaves(plain),
        thaws_warm=_thaws_warm(plain),
        serves_hot=bool(_SERVE_HOT.search(plain)),
    )


def says_cut(text: str) -> bool:
    """Whether words say that something is cut."""
    return _CUT.search(text) is not None


def says_ground(text: str) -> bool:
    """Whether words say that something is ground or minced; a note behind an ingredient, `beef chuck, ground`."""
    return _GRIND.search(text) is not None or text.strip().casefold() in ("ground", "freshly ground", "coarsely ground")


def says_pierced(text: str) -> bool:
    """Whether words say that meat is tenderized by needles or blades, or injected."""
    return _PIERCE.search(text) is not None


def _sentences(text: str) -> list[tuple[int, int]]:
    """Where the sentences and half sentences of a text stand."""
    ends = [match.start() for match in _SENTENCE_END.finditer(text)]
    return [*zip([0, *(end + 1 for end in ends)], [*ends, len(text)], strict=True)]


def _mixes_into(text: str) -> bool:
    """`Fold [peaches] into the batter`."""
    for start, end in _sentences(text):
        verb = _MIXES.search(text, start, end)
        if verb is not None and _INTO.search(text, verb.end(), end):
            return True
    return False


class _Named(Record):
    """What is done to the foods that a step names, by their places, and whether one is stuffed or filled with another."""

    cuts: frozenset[int]
    reconstitutes: frozenset[int]
    grinds: frozenset[int]
    pierces: frozenset[int]
    stuffs: bool
    fills: bool


def _of_named(step: Step) -> _Named:
    """What a step does to the foods that it names. Foods that are told in one breath (`[a], [b] and [c]`) share what
    stands before them, and at the end of the sentence what stands behind them."""
    text, at = step.text.text, step.text.start
    spots = [_bracketed(text, one.start - at, one.end - at) for one in step.references]
    done: tuple[set[int], ...] = (set(), set(), set(), set())
    stuffs = fills = False
    number = 0
    for start, end in _sentences(text):
        inside: list[int] = []
        while number < len(spots) and spots[number][0] < end:
            inside.append(number)
            number += 1
        for lists, before, behind in _lists(text, spots, inside, start, end):
            said = f"{before}\n{behind}"
            for found, words in zip(done, (_CUT, _RECONSTITUTE, _GRIND, _PIERCE), strict=True):
                if words.search(said):
                    found.update(lists)
            stuffs = stuffs or bool(_STUFF.search(before))
            last = spots[lists[-1]][1]
            fills = fills or (bool(_FILL.search(before)) and _WITH.match(text, last, end) is not None)
    cuts, reconstitutes, grinds, pierces = map(frozenset, done)
    return _Named(cuts, reconstitutes, grinds, pierces, stuffs, fills)


def _bracketed(text: str, start: int, end: int) -> tuple[int, int]:
    """A reference with its brackets."""
    return start - (text[start - 1 : start] == "["), end + (text[end : end + 1] == "]")


def _lists(
    text: str, spots: list[tuple[int, int]], inside: list[int], start: int, end: int
) -> list[tuple[list[int], str, str]]:
    """The foods of a sentence as they are listed, each list with what stands before it, and the last with what follows."""
    found: list[tuple[list[int], str, str]] = []
    since = start
    for number in inside:
        first, last = spots[number]
        if found and _LINKS.fullmatch(text, since, first):
            found[-1][0].append(number)
        else:
            found.append(([number], text[since:first], ""))
        since = last
    if found:
        lists, before, _ = found[-1]
        found[-1] = (lists, before, text[since:end])
    return found


def _heats(plain: str) -> bool:
    """Whether a verb that heats begins a clause, and what it heats is food."""
    begins, heating = True, False
    for match in _WORD.finditer(plain):
        word = match[0].casefold()
        if heating:
            if word in _PASSED_OVER:
                continue
            if word not in _NO_FOOD or "\x00" in plain[max(0, match.start() - 2) : match.start()]:
                return True
            heating = False
        begins_clause = begins
        begins = word in _BETWEEN or not word[0].isalpha() or (begins_clause and word.endswith("ly"))
        if begins_clause and word in _HEATS:
            if plain[match.end() : match.end() + 2].strip(" ").startswith("\x00"):
                return True
            heating = True
    return heating


def _microwaves(plain: str) -> bool:
    """Whether a microwave heats; not where it only thaws, or is one of two ways."""
    return _MICROWAVE.search(plain) is not None and not _THAW.search(plain) and not _EITHER.search(plain)


def _thaws_warm(plain: str) -> bool:
    """Whether a sentence thaws something at room temperature, and does not forbid it; a clause that says so is enough,
    whatever the next one does."""
    for start, end in _sentences(plain):
        if not _THAW.search(plain, start, end):
            continue
        said = plain[start:end]
        for clause in (said, *said.split(",")):
            if _THAW.search(clause) and _WARM_PLACE.search(clause) and not _COLD_PLACE.search(clause):
                return True
    return False
