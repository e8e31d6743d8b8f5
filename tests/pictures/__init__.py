"""Pictures of the real screens for the README: `python -m tests.pictures` makes them from the running program."""
