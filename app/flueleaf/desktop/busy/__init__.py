"""Work that takes a while: told, timed, and left off when asked."""
