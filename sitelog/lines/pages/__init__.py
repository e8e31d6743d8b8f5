"""The pages behind the job's, line by line: each says itself, asks, and gives the path to go on to, if any."""
