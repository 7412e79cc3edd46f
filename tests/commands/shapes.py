"""Shapes of JSON documents, written down as the contract with other programs has them.

A shape is a type, a set of fixed words, a list with the shape of its items, or a mapping of keys to shapes; the key `*`
stands for any key. Keys beyond the shape's may be added at any time; none of the shape's may be missing.
"""

from __future__ import annotations

import re
from typing import Any

EXACT = re.compile(r"-?\d+(?:/\d+|\.\d+)?")
"""Exact figures: a whole number, a fraction or a decimal, as a string."""

OPTIONAL = object()
"""In a set of types or words: the value may be null."""

Shape = Any


def misfits(value: Any, shape: Shape, path: str = "$") -> list[str]:
    """Where a document differs from its shape, one sentence each."""
    if isinstance(shape, tuple):
        if value is None and OPTIONAL in shape:
            return []
        tried = [misfits(value, one, path) for one in shape if one is not OPTIONAL]
        return [] if any(not found for found in tried) else tried[0]
    if isinstance(shape, re.Pattern):
        return [] if isinstance(value, str) and shape.fullmatch(value) else [f"{path}: {value!r} is no {shape.pattern}"]
    if isinstance(shape, str):
        return [] if value == shape else [f"{path}: {value!r} is not {shape!r}"]
    if isinstance(shape, list):
        if not isinstance(value, list):
            return [f"{path}: {value!r} is no list"]
        return [one for number, item in enumerate(value) for one in misfits(item, shape[0], f"{path}[{number}]")]
    if isinstance(shape, dict):
        if not isinstance(value, dict):
            return [f"{path}: {value!r} is no object"]
        if "*" in shape:
            return [one for key, item in value.items() for one in misfits(item, shape["*"], f"{path}.{key}")]
        missing = [f"{path}: `{key}` is missing" for key in shape if key not in value]
        return missing + [
            one for key, part in shape.items() if key in value for one in misfits(value[key], part, f"{path}.{key}")
        ]
    if shape is int and isinstance(value, bool):
        return [f"{path}: {value!r} is no number"]
    return [] if isinstance(value, shape) else [f"{path}: {value!r} is no {shape.__name__}"]
