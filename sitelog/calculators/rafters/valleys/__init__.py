"""Valleys that are laid on the main roof."""
