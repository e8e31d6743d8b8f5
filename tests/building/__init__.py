"""Cut roofs said block by block."""
