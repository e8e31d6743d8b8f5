"""Files of checklists put together into the objects of the schema."""
