"""The pages that papers are printed on, and their styles."""
