"""A record is made like the named tuple that the type checker takes it for."""

from __future__ import annotations

from typing import Any, NamedTuple

import pytest

from recipelang.text.record import WORTH_COMPILING, Record


class Ours(Record):
    one: int
    two: int = 2
    three: int = 3


class Pythons(NamedTuple):
    one: int
    two: int = 2
    three: int = 3


CALLS: list[tuple[tuple[int, ...], dict[str, int]]] = [
    ((1,), {}), ((1, 5), {}), ((1, 5, 6), {}), ((), {"one": 1}), ((1,), {"three": 5}), ((1,), {"three": 5, "two": 4}),
    ((), {"three": 5, "one": 1}), ((), {"one": 1, "two": 4, "three": 5}),
    ((), {}), ((), {"two": 1}), ((1,), {"one": 1}), ((1, 2, 3, 4), {}), ((1,), {"four": 1}), ((1, 2, 3), {"three": 3}),
    ((), {"one": 1, "two": 4, "four": 5}), ((), {"one": 1, "two": 4, "three": 5, "four": 5}),
]  # fmt: skip


def outcome(kind: Any, values: tuple[int, ...], named: dict[str, int]) -> Any:
    try:
        made = kind(*values, **named)
    except TypeError:
        return TypeError
    return tuple(made), made.one, made.two, made.three, made._replace(two=9)


@pytest.mark.parametrize(("values", "named"), CALLS)
def test_a_record_takes_what_a_named_tuple_takes(values: tuple[int, ...], named: dict[str, int]) -> None:
    assert outcome(Ours, values, named) == outcome(Pythons, values, named)


@pytest.mark.parametrize(("values", "named"), CALLS)
def test_a_record_that_is_made_often_takes_the_same(values: tuple[int, ...], named: dict[str, int]) -> None:
    class Often(Record):
        one: int
        two: int = 2
        three: int = 3

    for _ in range(WORTH_COMPILING + 1):
        Often(1)
    assert outcome(Often, values, named) == outcome(Pythons, values, named)


def test_a_record_of_one_value_is_still_a_tuple() -> None:
    class One(Record):
        value: tuple[int, int]

    assert One(value=(1, 2)) == ((1, 2),)
