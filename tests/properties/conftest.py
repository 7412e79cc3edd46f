"""How long the properties look. `RECIPELANG_PROPERTIES=long` looks fifty times as long, for a night or a release."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "short",
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
settings.register_profile("long", settings.get_profile("short"), max_examples=2000)
settings.load_profile("long" if os.environ.get("RECIPELANG_PROPERTIES") == "long" else "short")
