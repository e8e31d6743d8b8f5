"""How the cutting list is told: its batches in words, sheets for the saw, and the order."""
