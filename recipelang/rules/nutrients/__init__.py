"""Rules about nutrition statements."""
