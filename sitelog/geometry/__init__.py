"""Points, planes and lines in space, and the points that fit taped lengths best."""
