"""A cut roof built block by block: its forms, its blocks in words, and what they come to."""
