"""What the commands are to other programs: JSON and its shapes, standard input, completion and the manual page."""
