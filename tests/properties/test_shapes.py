"""No shape of a library takes more than its share of work, counted in calls and not in seconds."""

from __future__ import annotations

import pytest

from tests.benchmarks.shapes import SHAPES, Shape, exponent


@pytest.mark.parametrize("shape", SHAPES, ids=[shape.text.__name__ for shape in SHAPES])
def test_the_work_grows_no_faster_than_the_shape(shape: Shape) -> None:
    assert exponent(shape) <= shape.most
    assert shape.most <= 1.25 or shape.why
