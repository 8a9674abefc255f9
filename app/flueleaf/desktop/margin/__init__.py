"""The margin: verdicts, last time's values, cautions, and what is still open."""
