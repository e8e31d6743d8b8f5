"""The brief and the record as PDF, HTML and text."""
