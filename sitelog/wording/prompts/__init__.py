"""What is asked of a person before something is done, whatever front asks it."""
