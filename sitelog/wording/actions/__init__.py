"""What can be done to a job: the key, the word, the command and the prompt of each action, in one table."""
