"""Facts about recipes: measures, yields, credits, allergens, nutrients, cost, fill. Reads models, prints nothing."""
