"""What a fuel burns to, what a flame loses, and what a meter says about it."""
