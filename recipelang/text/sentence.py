"""How a sentence begins."""

from __future__ import annotations


def capital(sentence: str) -> str:
    """A sentence that may begin with a name, in the small letters it was given."""
    return sentence[:1].upper() + sentence[1:]
