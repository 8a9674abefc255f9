"""Money in whole pence: tallies, tax, interest."""
