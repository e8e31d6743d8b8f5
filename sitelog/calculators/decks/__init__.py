"""Flat decks and gutters: falls, firrings, boards, air, and what runs off."""
