"""Rules about amounts."""
