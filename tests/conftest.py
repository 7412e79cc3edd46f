"""How long the properties look, and where.

`RECIPELANG_PROPERTIES=long` looks fifty times as long, at other examples every time, for a night or a release. The short
look draws the same examples for the same test, so that a change is judged by what it changes and not by the day's luck.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "short",
    max_examples=40,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
settings.register_profile("long", settings.get_profile("short"), max_examples=2000, derandomize=False)
settings.load_profile("long" if os.environ.get("RECIPELANG_PROPERTIES") == "long" else "short")
