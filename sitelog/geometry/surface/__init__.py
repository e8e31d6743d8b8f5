"""Any roof as one surface: the highest of its blocks, and everything that is read off it."""
