"""Rules about notation."""
