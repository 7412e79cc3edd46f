"""recipelang."""
