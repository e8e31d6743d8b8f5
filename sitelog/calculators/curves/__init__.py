"""Curved dormers: arcs, ribs, stations, and the lines in which they meet a slope."""
