"""Drawings held to the calculators and to geometry of their own."""
