"""One timber as it is marked on the bench: running sizes from where the tape hooks."""
