"""Readings while they settle: from a logged run, or typed at intervals."""
