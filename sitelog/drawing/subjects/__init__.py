"""Drawings of what the calculators give, one file a family of calculators."""
