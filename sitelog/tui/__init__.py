"""The screens: show a state, turn a key into an entry."""
