"""A loop of walls split into the blocks of its roof."""
