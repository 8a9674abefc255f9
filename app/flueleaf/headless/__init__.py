"""The command line, from the same operations as the window."""
