"""The allergens of a label line or of a promise, read word by word.

A word that could mean less than it says is asked about. Where a reading must be chosen meanwhile, it is the one that
keeps a child safe: a label contains all that it could mean, and a promise covers it.
"""

from __future__ import annotations

from recipelang.findings.nearest import nearest
from recipelang.model import vocabulary
from recipelang.model.allergen_words import allergen_of_kind, is_mollusk, was_tree_nut
from recipelang.model.values import Problems
from recipelang.syntax import tree
from recipelang.syntax.split import fold
from recipelang.syntax.tree import Problem, Word


def read_allergens(items: tuple[tree.Allergen, ...], target: dict[str, list[str]], problems: Problems) -> None:
    """The allergens of a label line and their kinds into `target`: `tree nuts: almond, pecan` names two kinds."""
    group = ""
    for item in items:
        phrase = fold(item.name.text)
        if phrase in vocabulary.NUTS_OF_SOME_KIND and item.kind is None:
            group = "tree nuts"
            target.setdefault(group, [])
            problems.append(_which_nuts_on_a_label(item.name))
            continue
        name = vocabulary.ALLERGEN_SPELLINGS.get(phrase)
        if name is not None:
            target.setdefault(name, [])
            group = name
            if item.kind is not None:
                _read_kind(item, name, target, problems)
        elif group in vocabulary.NAMES_KINDS and target[group] and item.kind is None:
            _read_further_kind(item.name, group, target, problems)
        else:
            problems.append(_no_allergen(item.name))


def read_promise(items: tuple[tree.Allergen, ...], problems: Problems) -> list[tuple[str, Word]]:
    """What a recipe is made without, each with its word; `nuts` is both that it may mean until somebody says which."""
    found: list[tuple[str, Word]] = []
    phrases = {fold(item.name.text) for item in items} - vocabulary.NUTS_OF_SOME_KIND
    named = {vocabulary.ALLERGEN_SPELLINGS.get(phrase) for phrase in phrases}
    for item in items:
        word = item.name
        phrase = fold(word.text)
        if phrase in vocabulary.GLUTEN_WORDS:
            found.append(("gluten", word))
        elif phrase in vocabulary.NUTS_OF_SOME_KIND:
            problems.append(
                _which_nuts_in_a_promise(word, [name for name in ("tree nuts", "peanuts") if name not in named])
            )
            found += [("tree nuts", word), ("peanuts", word)]
        elif phrase == "shellfish":
            problems.append(_which_shellfish(word))
            found.append(("crustacean shellfish", word))
        else:
            read: dict[str, list[str]] = {}
            read_allergens((item,), read, problems)
            found += [(name, word) for name in read]
    return found


def _read_kind(item: tree.Allergen, name: str, target: dict[str, list[str]], problems: Problems) -> None:
    """The kind after a colon: `tree nuts: almond`."""
    assert item.kind is not None
    kind = fold(item.kind.text)
    other = vocabulary.ALLERGEN_SPELLINGS.get(kind) or allergen_of_kind(kind)
    if not other or other == name:
        target[name].append(kind)
        return
    target.setdefault(other, [])  # whatever was meant, a child who is allergic to it is not served
    is_itself = kind in vocabulary.ALLERGEN_SPELLINGS
    meant = kind if is_itself else f"{other}: {kind}"
    problems.append(
        Problem(item.name.start, item.kind.end, "syntax", f"`{item.kind.text}` is not a kind of {name}; it is "
                f"{'one of the nine allergens itself' if is_itself else f'a kind of {other}'}.",
                f"{item.name.text}, {meant}", f"write `{item.name.text}, {meant}` if the label names both, else only "
                f"`{meant}`")
    )  # fmt: skip


def _read_further_kind(word: Word, group: str, target: dict[str, list[str]], problems: Problems) -> None:
    """A word after a comma that names no allergen: another kind, or an allergen that is misspelled."""
    kind = fold(word.text)
    belongs = allergen_of_kind(kind)
    near = misspelled_allergen(kind)
    if near:
        problems.append(
            Problem(word.start, word.end, "syntax", f"`{word.text}` is not one of the nine allergens, nor a kind of {group} "
                    "that is known.", near, f"write `{near}`, or the kind as the label spells it")
        )  # fmt: skip
    elif belongs and belongs != group:
        target.setdefault(belongs, []).append(kind)
    else:
        target[group].append(kind)


def misspelled_allergen(kind: str) -> str:
    """The allergen that a folded word is probably meant for where a kind may stand, or empty."""
    if allergen_of_kind(kind) or was_tree_nut(kind) or is_mollusk(kind):
        return ""
    near = nearest(kind, vocabulary.ALLERGEN_SPELLINGS, 1)
    return near[0] if near else ""


def _no_allergen(word: Word) -> Problem:
    near = nearest(fold(word.text), vocabulary.ALLERGENS, 1)
    return Problem(
        word.start, word.end, "syntax", f"`{word.text}` is not one of the nine allergens.", near[0] if near else None,
        f"the nine are {', '.join(vocabulary.ALLERGENS)}",
    )  # fmt: skip


def _which_nuts_on_a_label(word: Word) -> Problem:
    return Problem(
        word.start, word.end, "syntax", f"`{word.text}` may mean tree nuts, peanuts or both.",
        help="write what the label names, as in `tree nuts: almond`, `peanuts`, or both",
    )  # fmt: skip


def _which_nuts_in_a_promise(word: Word, meanings: list[str]) -> Problem:
    both = ", ".join(meanings) or "tree nuts, peanuts"
    return Problem(
        word.start, word.end, "syntax", f"Does `{word.text}` mean tree nuts, peanuts or both? A child is served by this "
        "line.", both, f"write `{both}`, or only the one that is promised",
    )  # fmt: skip


def _which_shellfish(word: Word) -> Problem:
    return Problem(
        word.start, word.end, "syntax", f"`{word.text}` covers mollusks such as clams and oysters, which labels need not "
        "name as an allergen; crustacean shellfish is the one that can be checked.",
        help="write `crustacean shellfish` if crab, lobster and shrimp are what is promised; for mollusks read every "
        "ingredient list",
    )  # fmt: skip
