"""Text to millimetres and degrees and back, and one rule of rounding for every front."""
