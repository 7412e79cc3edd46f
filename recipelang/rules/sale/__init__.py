"""Rules about what is sold beside the meals."""
