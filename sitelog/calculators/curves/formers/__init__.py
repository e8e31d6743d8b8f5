"""Formers under straight, level bearers that run square to the face of a curved dormer."""
