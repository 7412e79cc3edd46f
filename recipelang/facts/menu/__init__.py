"""Facts about a menu: its weeks, what each day offers whom, and what an average meal holds."""
