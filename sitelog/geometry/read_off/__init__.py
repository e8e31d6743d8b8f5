"""What is read off the surface of a roof: rafters, purlins, collars, openings, and the courses of its covering."""
