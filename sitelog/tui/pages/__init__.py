"""The pages: one of them fills the screen."""
