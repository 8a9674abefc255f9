"""Photographs that stand beside the fields while one types."""
