"""Rules about credits."""
