"""Makes the keyword parts of the editors' files from the grammar and the line forms: `python -m editors.generate`."""
