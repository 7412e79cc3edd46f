"""Rules about which food is meant."""
