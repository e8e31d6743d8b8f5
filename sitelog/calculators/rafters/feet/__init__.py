"""Where rafters meet the plates."""
