"""The pack for the next trade: one model, several outputs."""
