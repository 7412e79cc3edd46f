"""What a declaration is, as a flat table of plain values, so that two versions of it can be held against each other."""
