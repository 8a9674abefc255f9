"""Help where it is wanted: how a figure was worked out, what a word means."""
