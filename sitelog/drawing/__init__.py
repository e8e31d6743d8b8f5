"""A drawing from an answer, for paper and for a terminal."""
