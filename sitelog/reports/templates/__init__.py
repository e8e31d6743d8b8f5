"""Full-size templates: what is cut and marked on each, the sheets it goes on, and the files it is written to."""
