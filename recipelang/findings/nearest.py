"""The nearest names to a misspelled one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

MOST_LETTERS: Final = 200
"""A longer text is no misspelled name, and comparing it would cost what reading it did not."""


def distance(one: str, other: str, most: int) -> int:
    """Edits from one word to another, neighbors swapped counting once; `most + 1` as soon as it is more."""
    if abs(len(one) - len(other)) > most:
        return most + 1
    one, other = _apart(one, other)
    if not one or not other:
        return len(one) + len(other)
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, 1):
        line = [i]
        least = i
        for j, against in enumerate(other, 1):
            cost = min(row[j] + 1, line[j - 1] + 1, row[j - 1] + (letter != against))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == against:
                cost = min(cost, before[j - 2] + 1)
            line.append(cost)
            least = min(least, cost)
        if least > most:
            return most + 1
        before, row = row, line
    return row[-1]


def _apart(one: str, other: str) -> tuple[str, str]:
    """Two words without what they begin and end with alike: a library's names often differ in their last letters only."""
    start, end = 0, min(len(one), len(other))
    while start < end and one[start] == other[start]:
        start += 1
    one, other = one[start:], other[start:]
    last = 0
    end = min(len(one), len(other))
    while last < end and one[-1 - last] == other[-1 - last]:
        last += 1
    return one[: len(one) - last], other[: len(other) - last]


def nearest(word: str, names: Iterable[str], count: int = 2) -> list[str]:
    """The names nearest to a word, best first: a third of its letters may differ, words in another order count near."""
    if len(word) > MOST_LETTERS:
        return []
    most = max(1, min(len(word) // 3, 4))
    words = sorted(word.split())
    letters = set(word)
    best: list[tuple[int, str]] = []
    for name in names:
        # an edit brings in one letter at most: most names are too far at a glance
        if abs(len(name) - len(word)) > most:
            continue
        if len(letters.difference(name)) > most or len(set(name).difference(word)) > most:
            continue
        step = 1 if sorted(name.split()) == words else distance(word, name, most)
        if step <= most:
            best = sorted([*best, (step, name)])[:count]
            if len(best) == count:
                most = best[-1][0]  # what is further off than the last of these is none of them
    return [name for _, name in best]


def sharing_words(phrase: str, names: Iterable[str], count: int = 2) -> list[str]:
    """The names that share most of their words with a phrase, best first: `frozen broccoli cuts` is near to `frozen
    broccoli`. At least half of all their words must be shared, plurals alike."""
    words = {_stem(word) for word in phrase.split()}
    scored: list[tuple[int, int, str]] = []
    for name in names:
        other = {_stem(word) for word in name.split()}
        shared = len(words & other)
        if shared * 2 >= len(words | other) and shared:
            scored.append((-shared, len(other), name))
    scored.sort()
    return [name for _, _, name in scored[:count]]


def _stem(word: str) -> str:
    return word[:-1] if word.endswith("s") and len(word) > 3 else word
