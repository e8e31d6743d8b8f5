"""The brief: what the next trade needs, on two pages and one for each part."""
