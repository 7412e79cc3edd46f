"""Text to tree and back. Knows no food, no unit's size and no rule of a program."""
