"""Bytes to text and places in it. Knows nothing of recipes."""
