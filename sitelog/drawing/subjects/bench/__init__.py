"""Timbers as they are on the bench."""
