"""A job as plain data for other programs."""
