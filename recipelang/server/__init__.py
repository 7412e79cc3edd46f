"""The language server: the protocol, and nothing else. What is shown comes from `editing`, `output` and `workspace`."""
