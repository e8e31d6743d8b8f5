"""Steps a foreman roof carpenter through a roofing job, from the first stage to the pack for the next trade."""
