"""What was entered: entries, the chains they stand in, and copies brought together."""
