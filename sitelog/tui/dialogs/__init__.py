"""What is asked over a page, and small pages that a key opens and closes again."""
