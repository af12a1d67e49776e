"""Findings into words: the trade's terms, exact figures, the bench's own units."""
