"""What facts are given of a configuration."""

from __future__ import annotations

from recipelang.evaluate.settings import Settings
from recipelang.findings.finding import Finding
from recipelang.workspace.config import Config


def settings_of(config: Config, asked_year: str) -> tuple[Settings, tuple[Finding, ...]]:
    """The settings of a library, and what is wrong with the units of its own."""
    from recipelang.workspace.units import own_units

    rates, problems = own_units(config.units)
    settings = Settings(
        asked_year or config.school_year, rates, config.tolerances, config.safety, asked_year, config.rules,
        config.oldest_label,
    )  # fmt: skip
    return settings, problems
