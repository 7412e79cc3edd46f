"""Bringing in what exists: spreadsheets, tables, cards, records and price lists as declarations of the notation."""
