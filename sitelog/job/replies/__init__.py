"""The next trade's answer to a pack: how it is written, which points it is about, and what it enters."""
