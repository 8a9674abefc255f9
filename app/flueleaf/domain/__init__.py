"""The trade's rules as pure functions: no clock, file, window or database."""
