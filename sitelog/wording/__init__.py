"""How a job is told and what it asks, in words: what the screens and plain mode share."""
