"""Which cautions apply, who has read them, and which answer stops the work."""
