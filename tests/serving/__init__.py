"""The screens served to a browser."""
