"""JSON as it is printed: readable, and with no character that a terminal acts on."""

from __future__ import annotations

import json
from typing import Any

from recipelang.text.visible import escaped_json


def json_text(document: Any) -> str:
    """A document as JSON in lines, letters of all scripts as they are."""
    return escaped_json(json.dumps(document, ensure_ascii=False, indent=2)) + "\n"
