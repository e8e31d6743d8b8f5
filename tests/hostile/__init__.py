"""What somebody else's file, folder or words may try, and that nothing comes of it, on any front of the program."""
