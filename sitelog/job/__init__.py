"""Entries, the file that keeps them, and the state that follows from them."""
