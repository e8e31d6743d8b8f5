"""Pictures by their bytes alone: what kind one is, and the same picture without its time and place."""
