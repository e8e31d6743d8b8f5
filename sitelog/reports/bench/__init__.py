"""Sheets for the saw bench."""
