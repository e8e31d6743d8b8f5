"""Plates, levels, centres, and what a tape can prove."""
