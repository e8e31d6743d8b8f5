"""The next trade's answer to a pack."""
