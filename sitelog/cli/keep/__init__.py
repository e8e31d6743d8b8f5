"""The commands that keep a job by script: each opens the file, does one act, and says in one line what was done."""
