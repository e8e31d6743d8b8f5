"""Which stick each piece of one section is sawn from, so that the least is bought."""
