"""What a slope or a deck is covered with: courses, laps, bays."""
