"""Facts about a recipe: what it makes, credits, contains, costs, and how it is kept safe."""
