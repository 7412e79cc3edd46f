"""Findings and figures as text and JSON, one format a module. Computes nothing about a meal."""
