"""The job file on the disk: whole or not at all, one writer, every copy joined."""
