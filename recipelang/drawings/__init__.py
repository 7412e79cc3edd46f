"""Pictures as SVG, written by hand: numbers and texts in, one string out."""
