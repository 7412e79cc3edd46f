"""Rules about cost."""
