"""Any roof as one surface, and the taped lengths that fix its plan."""
