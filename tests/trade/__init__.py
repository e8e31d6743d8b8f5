"""The calculators as other programs have them."""
