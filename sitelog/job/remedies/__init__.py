"""What can be done about a measure that is out, and what each way moves in the timbers that are still to be cut."""
