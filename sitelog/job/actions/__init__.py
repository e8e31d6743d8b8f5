"""Every way to change a job: each proved against its state before it becomes an entry."""
