"""Declarations as typed things: foods, containers, recipes, variations, menus. Computes nothing about a meal."""
