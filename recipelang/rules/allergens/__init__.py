"""Rules about allergens."""
