"""Rafters, hips, valleys, jacks, ridges and openings: lengths and cuts."""
