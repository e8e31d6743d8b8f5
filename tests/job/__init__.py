"""What is entered, kept and worked out of a job."""
