"""Rules about containers."""
