"""Facts about what is sold beside the meals, and products with limits of their own."""
