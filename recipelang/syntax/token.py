"""A token: a terminal's name, its text and its offsets."""

from __future__ import annotations

from recipelang.text.record import Record


class Token(Record):
    type: str
    value: str
    start_pos: int
    end_pos: int
