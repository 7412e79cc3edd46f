"""The nearest names to a misspelt one."""

from __future__ import annotations

from collections.abc import Iterable


def distance(one: str, other: str, most: int) -> int:
    """Edits from one word to another, neighbours swapped counting once; `most + 1` as soon as it is more."""
    if abs(len(one) - len(other)) > most:
        return most + 1
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


def nearest(word: str, names: Iterable[str], count: int = 2) -> list[str]:
    """The names nearest to a word, best first: a third of its letters may differ, words in another order count near."""
    most = max(1, min(len(word) // 3, 4))
    letters = sorted(word.split())
    scored: list[tuple[int, str]] = []
    for name in names:
        if abs(len(name) - len(word)) > most:
            continue
        step = 1 if sorted(name.split()) == letters else distance(word, name, most)
        if step <= most:
            scored.append((step, name))
    scored.sort()
    return [name for _, name in scored[:count]]
