"""Where rafters meet the plates, and what a pattern tried there says of the rest."""
