"""Rules: one module each, with its manual page as docstring. They read facts; they parse and print nothing."""
