"""A token: a terminal's name, its text and its offsets."""

from __future__ import annotations


class Token:
    __slots__ = ("end_pos", "start_pos", "type", "value")

    def __init__(self, type: str, value: str, start_pos: int, end_pos: int) -> None:
        self.type = type
        self.value = value
        self.start_pos = start_pos
        self.end_pos = end_pos

    def __repr__(self) -> str:
        return f"Token({self.type}, {self.value!r})"
