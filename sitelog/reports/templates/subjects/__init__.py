"""What each calculator's template shows, from its own answer."""
