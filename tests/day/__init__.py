"""A whole house by keyboard as a person types it, with every key counted."""
