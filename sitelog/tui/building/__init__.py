"""A cut roof built block by block on the screen."""
