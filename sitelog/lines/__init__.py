"""The whole job line by line, with numbered choices: for a screen reader, a dumb terminal or a pipe."""
