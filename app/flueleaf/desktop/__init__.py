"""The window: shows and asks."""
