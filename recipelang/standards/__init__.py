"""What programs require of meals, as data: each figure with its citation and the dates it is in force."""
