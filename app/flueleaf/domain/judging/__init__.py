"""Limits, uncertainty, doubts and verdicts."""
