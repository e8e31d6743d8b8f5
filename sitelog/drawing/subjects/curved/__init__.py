"""How a curved head is framed: formers, bearers, and the open ceiling under it."""
