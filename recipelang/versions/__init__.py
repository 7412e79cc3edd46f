"""Versions of a library held against each other. Reads git and folders, knows neither rules nor formats."""
