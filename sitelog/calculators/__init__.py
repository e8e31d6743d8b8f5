"""The calculators: pure functions, numbers in and numbers out."""
