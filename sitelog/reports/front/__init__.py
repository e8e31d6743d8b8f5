"""The first page of the pack: what is not as it should be, and whether the job is signed."""
