"""The figures of each part: as drawn, as built, and what follows from both."""
