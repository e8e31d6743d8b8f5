"""The command line: the same acts as the screens, without a screen."""
