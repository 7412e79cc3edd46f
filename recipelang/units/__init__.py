"""Measures and amounts: exact numbers with a unit, and what may be turned into what. Knows nothing of foods."""
