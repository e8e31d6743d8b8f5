"""What follows from the lists and the entries: stages, checks, cautions, and how each stands."""
