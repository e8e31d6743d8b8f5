"""What things cost against a floor measured beside them, run by hand: `python -m tests.bench [SUBJECT...]`."""
